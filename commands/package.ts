import { buildIfStale } from './build.ts'
import { makePackages } from './packaging/make-packages.ts'

// Makes what this machine can: the app's folder with its fuses set, an archive of it, on Debian a package, with checksums and a
// bill of materials.
if (!(await buildIfStale())) process.exit(1)
for (const file of await makePackages()) console.log(file)
