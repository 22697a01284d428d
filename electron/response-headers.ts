/**
 * Everything the window may load, sent as a header by the app protocol and by the loopback server alike.
 * Takes are played through Web Audio, so no media source is listed.
 */
export const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self'",
  "img-src 'self' data:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

/**
 * The same for the page itself, so that it stands even where a header got lost. A page cannot say by whom it may be framed:
 * browsers take that directive from the header alone (CSP Level 3, section 3.3).
 */
export const PAGE_POLICY = CONTENT_SECURITY_POLICY.split("; ")
  .filter((directive) => !directive.startsWith("frame-ancestors"))
  .join("; ");

/** The microphone for our own page and nobody within it; what the program never asks for is denied even to itself. */
const DENIED = ["camera", "display-capture", "geolocation", "hid", "midi", "payment", "serial", "usb"];
export const PERMISSIONS_POLICY = ["microphone=(self)", ...DENIED.map((feature) => `${feature}=()`)].join(
  ", ",
);

/** Headers of every answer, whatever its status. */
export const RESPONSE_HEADERS: Readonly<Record<string, string>> = {
  "Content-Security-Policy": CONTENT_SECURITY_POLICY,
  "X-Content-Type-Options": "nosniff",
  "Referrer-Policy": "no-referrer",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Permissions-Policy": PERMISSIONS_POLICY,
  // A rebuilt program must be seen at once; on one machine a second read costs nothing.
  "Cache-Control": "no-cache",
};
