import { createRequire } from 'node:module'
import { fileURLToPath } from 'node:url'
import { parentPort } from 'node:worker_threads'

/**
 * The reference solver is built for the worker of a browser; this gives it the few names of that world which it uses, so that
 * it runs in a worker thread of Node. What is posted to the thread reaches it unchanged, and the other way round.
 */
const port = parentPort
if (port === null) throw new Error('This file is for a worker thread.')
const solver = import.meta.resolve('minizinc/minizinc-worker.js')
const browserNames = {
  postMessage: (message: unknown) => port.postMessage(message),
  addEventListener: (_: string, listen: (event: { readonly data: unknown }) => void) =>
    port.on('message', (data: unknown) => listen({ data })),
  require: createRequire(solver),
  __filename: fileURLToPath(solver),
  __dirname: fileURLToPath(new URL('.', solver)),
}
Object.assign(globalThis, browserNames)
await import(solver)
const path = (ending: string): string => fileURLToPath(import.meta.resolve(`minizinc/minizinc.${ending}`))
port.emit('message', { wasmURL: path('wasm'), dataURL: path('data') })
