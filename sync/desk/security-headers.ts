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

/** The page of two phones shows its own pages in frames; no page of the app may hold one or stand in one. */
const DEMO_RULES = { ...CONTENT_RULES, 'frame-src': "'self'" }
const isOfDemo = (path: string): boolean => path.startsWith('/demo/')

/** For a `meta` element, which cannot forbid framing, of the page at `path` below the app's address. */
export const contentSecurityPolicy = (path: string): string => policy(isOfDemo(path) ? DEMO_RULES : CONTENT_RULES)

/** For every answer of our own server. The camera reads codes and takes photos; nothing else of the device is asked for. */
export const securityHeaders = (path: string): Readonly<Record<string, string>> => ({
  'Content-Security-Policy': policy(
    isOfDemo(path) ? { ...DEMO_RULES, 'frame-ancestors': "'self'" } : { ...CONTENT_RULES, 'frame-ancestors': "'none'" },
  ),
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Permissions-Policy': 'camera=(self), geolocation=(), microphone=(), payment=(), usb=(), serial=()',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
})
