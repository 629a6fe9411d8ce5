// The shared record as it is tested in Node, here with the keys, seals and compression of a browser.
import '../sync/casebook.test.ts'
