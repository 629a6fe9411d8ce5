/*
 * Part of the service worker. The share sheet of the system hands a file to the app by posting it to `take-in`
 * (`share_target` in the manifest). It is kept here, sealed as it came and without its name, until the page takes it in
 * (components/app/shared-files.ts), which may be after the passphrase.
 */
const KEPT = 'outspoke-shared'

const keep = async request => {
  const files = (await request.formData()).getAll('bundles').filter(one => one instanceof File)
  const cache = await caches.open(KEPT)
  for (const file of files) {
    const headers = { 'Content-Type': 'application/octet-stream' }
    await cache.put(new URL(`shared/${crypto.randomUUID()}`, registration.scope), new Response(file, { headers }))
  }
}

/** Where the page goes from here; a file that could not be kept is said there. */
const handOn = end => Response.redirect(new URL(`#/hand-on${end}`, registration.scope), 303)

addEventListener('fetch', event => {
  const { method, url } = event.request
  if (method !== 'POST' || new URL(url).pathname !== new URL('take-in', registration.scope).pathname) return
  event.respondWith(
    keep(event.request).then(
      () => handOn(''),
      () => handOn('/not-kept'),
    ),
  )
})
