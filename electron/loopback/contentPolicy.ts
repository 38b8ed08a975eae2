/**
 * What the pages of the app may load: only what came with it. The same words stand in the meta tag
 * of renderer/index.html (a test holds the two together); as a header it can also refuse frames.
 */
export const PAGE_POLICY =
  "default-src 'self'; img-src 'self' data: blob:; font-src 'self' data:; style-src 'self' 'unsafe-inline'; worker-src 'self' blob:; media-src 'self' blob:; connect-src 'self'; object-src 'none'; base-uri 'none'; form-action 'none'";

/** Sent with every file of the app, by the server and by the app scheme alike. */
export const SAFE_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': `${PAGE_POLICY}; frame-ancestors 'none'`,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  // MIDI and the microphone are asked for; nothing else of the computer is (Permissions Policy, W3C).
  'Permissions-Policy':
    'midi=(self), camera=(), microphone=(self), geolocation=(), display-capture=(), usb=(), serial=(), hid=(), payment=()',
};
