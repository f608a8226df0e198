import { lockFolder } from '../../../db/folder-lock.ts'

/** Holds a folder until it is ended. Run as a program: `hold-folder.ts <folder>`. */
const lock = lockFolder(process.argv[2] ?? '', {
  where: 'the browser at http://127.0.0.1:4123',
  pid: process.pid,
  sinceMs: Date.UTC(2026, 10, 25, 18),
})
console.log(lock.ok ? 'held' : lock.problems[0]?.message)
process.stdin.resume()
process.stdin.on('end', () => {
  if (lock.ok) lock.value.release()
})
