/**
 * What a page of the app may do: run, style and fetch its own files, show pictures that it made itself, and nothing else.
 * No inline script or style runs, so text that came with a merge can never become code. Written in a `meta` element of
 * the built page too: it holds wherever the files are served from, and offline.
 */
const CONTENT_RULES: Readonly<Record<string, string>> = {
  'default-src': "'none'",
  'script-src': "'self'",
  'style-src': "'self'",
  'img-src': "'self' blob:",
  'connect-src': "'self'",
  'manifest-src': "'self'",
  'worker-src': "'self'",
  'base-uri': "'none'",
  'form-action': "'none'",
}

const policy = (rules: Readonly<Record<string, string>>): string =>
  Object.entries(rules)
    .map(([rule, value]) => `${rule} ${value}`)
    .join('; ')

/** For a `meta` element, which cannot forbid framing. */
export const CONTENT_SECURITY_POLICY = policy(CONTENT_RULES)

/** For every answer of our own server. The camera reads codes and takes photos; nothing else of the device is asked for. */
export const SECURITY_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': policy({ ...CONTENT_RULES, 'frame-ancestors': "'none'" }),
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Permissions-Policy': 'camera=(self), geolocation=(), microphone=(), payment=(), usb=(), serial=()',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
}
