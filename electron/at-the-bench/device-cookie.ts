/** `__Host-` binds it to this very host, to TLS and to all paths. @source RFC 6265bis, 4.1.3.2 */
const NAME = '__Host-out-of-clamps'

/** As long as browsers keep one at most. @source RFC 6265bis, 5.5: 400 days */
const MAX_AGE_S = 400 * 24 * 60 * 60

export const cookieOf = (key: string): string =>
  `${NAME}=${key}; Secure; HttpOnly; SameSite=Strict; Path=/; Max-Age=${MAX_AGE_S}`

/** A device's key; empty: none was sent. */
export const keyInCookie = (header: string | undefined): string =>
  (header ?? '')
    .split(/; */)
    .find((cookie) => cookie.startsWith(`${NAME}=`))
    ?.slice(NAME.length + 1) ?? ''
