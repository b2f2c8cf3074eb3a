export interface HeadersFor {
  /** Path of the request, with or without its query. */
  path: string;
  /** Made for this one answer. */
  nonce: string;
  /** Next's development server evaluates code and talks over a web socket. */
  dev?: boolean;
}

/**
 * The headers that every answer carries. Scripts run only with the answer's own nonce; styles come from our own files,
 * and a `style` attribute is allowed because drawings place their rows with one. An answer of the API is data: nothing
 * in it may run, whatever type a browser takes it for.
 */
export function securityHeaders({ path, nonce, dev = false }: HeadersFor): Record<string, string> {
  return {
    "content-security-policy": path.startsWith("/api/") ? DATA_POLICY : pagePolicy(nonce, dev),
    "x-content-type-options": "nosniff",
    // Not "no-referrer": with it a browser sends a form with "Origin: null".
    "referrer-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(self), microphone=(), payment=(), usb=(), display-capture=()",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "x-frame-options": "DENY",
  };
}

const DATA_POLICY = "default-src 'none'; frame-ancestors 'none'; sandbox";

function pagePolicy(nonce: string, dev: boolean): string {
  return [
    "default-src 'none'",
    `script-src 'self' 'nonce-${nonce}'${dev ? " 'unsafe-eval'" : ""}`,
    `style-src 'self'${dev ? " 'unsafe-inline'" : ""}`,
    "style-src-attr 'unsafe-inline'",
    "img-src 'self' blob: data:",
    "font-src 'self'",
    `connect-src 'self'${dev ? " ws:" : ""}`,
    "manifest-src 'self'",
    "form-action 'self'",
    "base-uri 'none'",
    "object-src 'none'",
    "frame-ancestors 'none'",
  ].join("; ");
}
