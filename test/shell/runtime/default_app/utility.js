// Starts the program of a utility process, which is the first argument, with the binding that fits this runtime.
import { pathToFileURL } from 'node:url'
import './compiled-binding.js'

const [program] = process.argv.splice(1, 1)
await import(pathToFileURL(process.argv[1]).href)
