// Goes to an address as a phone with a code does, and says as JSON what it met there.
import { request } from 'node:https'

const [url = '', code = ''] = process.argv.slice(2)
const { host, hostname, port, origin } = new URL(url)

/** @returns {Promise<{ status: number, text: string, cookie: string, fingerprint: string }>} */
const send = (path, cookie, body) =>
  new Promise((resolve, reject) => {
    const asked = request(
      {
        ...{ hostname, port, path, method: 'POST', rejectUnauthorized: false, timeout: 3_000, agent: false },
        headers: { host, origin, 'content-type': 'application/json', cookie },
      },
      (response) => {
        const fingerprint = response.socket.getPeerCertificate().fingerprint256
        const given = response.headers['set-cookie']?.[0]?.split(';')[0] ?? ''
        let text = ''
        response.on('data', (part) => (text += part))
        response.on('end', () => resolve({ status: response.statusCode, text, cookie: given, fingerprint }))
      },
    )
    asked.once('timeout', () => asked.destroy(Object.assign(new Error('no answer'), { code: 'NO_ANSWER' })))
    asked.once('error', reject)
    asked.end(JSON.stringify(body))
  })

try {
  const { status, text, cookie, fingerprint } = await send('/pair', '', { code })
  const called = await send('/call', cookie, { name: 'bench', input: { rows: 24 } })
  const { ok, value } = JSON.parse(called.text)
  const steps = ok ? value.canStart.length : 0
  console.log(JSON.stringify({ paired: { status, text }, fingerprint, called: called.status, steps }))
} catch (error) {
  console.log(JSON.stringify({ error: error.code }))
}
