import { createPrivateKey, X509Certificate } from 'node:crypto'
import { isIPv4 } from 'node:net'
import { createSecureContext } from 'node:tls'
import { InputError } from './command.ts'
import { readText } from './files.ts'

/** The team's certificate with its key, found to belong together and to stand for the hub's name. */
export interface Certificate {
  readonly pem: { readonly cert: string; readonly key: string }
  /** Something that phones will not like, in words. */
  readonly warning?: string
}

/** Whether `makes` is possible; what a parser says of a key is never repeated. */
const can = (makes: () => unknown): boolean => {
  try {
    makes()
    return true
  } catch {
    return false
  }
}

/** Reads both files. `now` is this laptop's clock: where it is wrong the phones may see it otherwise, so it only warns. */
export const readCertificate = async (
  certificatePath: string,
  keyPath: string,
  name: string,
  now: Date,
): Promise<Certificate> => {
  const [cert, key] = await Promise.all([readText(certificatePath), readText(keyPath)])
  if (!can(() => new X509Certificate(cert))) {
    throw new InputError(`${certificatePath}: is not a certificate in PEM form. Nothing was started.`)
  }
  if (!can(() => createPrivateKey(key))) {
    throw new InputError(
      `${keyPath}: is not a private key in PEM form without a passphrase. Nothing was started. If it has a passphrase, write a copy without one, readable by you alone.`,
    )
  }
  const first = new X509Certificate(cert)
  if (!first.checkPrivateKey(createPrivateKey(key)) || !can(() => createSecureContext({ cert, key }))) {
    throw new InputError(`${keyPath}: is not the key of the certificate in ${certificatePath}. Nothing was started.`)
  }
  if (!(isIPv4(name) ? first.checkIP(name) : first.checkHost(name))) {
    throw new InputError(
      `${certificatePath}: does not stand for the name ${name}, so phones would refuse it. Nothing was started. It stands for: ${first.subjectAltName ?? first.subject}`,
    )
  }
  const [from, until] = [new Date(first.validFrom), new Date(first.validTo)]
  const warning =
    now < from
      ? `By this laptop's clock the certificate counts only from ${from.toISOString()} on: phones may refuse it. Is the clock right?`
      : now > until
        ? `By this laptop's clock the certificate ended at ${until.toISOString()}: phones will refuse it. Renew it before the trip.`
        : undefined
  return { pem: { cert, key }, ...(warning && { warning }) }
}
