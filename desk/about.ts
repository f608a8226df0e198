import SqliteFile from 'better-sqlite3'
import program from '../package.json' with { type: 'json' }

/** What the program is, for whoever asks for help with it. */
export interface AboutView {
  readonly version: string
  readonly dataFolder: string
  /** "Electron 45.4.1", "Node 24.18.1", "SQLite 3.54.1". */
  readonly runsOn: readonly string[]
}

export const aboutView = (dataFolder: string): AboutView => ({
  version: program.version,
  dataFolder,
  runsOn: [
    ...(process.versions['electron'] === undefined ? [] : [`Electron ${process.versions['electron']}`]),
    `Node ${process.versions.node}`,
    `SQLite ${sqliteVersion()}`,
  ],
})

function sqliteVersion(): string {
  const file = new SqliteFile(':memory:')
  try {
    return file.prepare('select sqlite_version()').pluck().get() as string
  } finally {
    file.close()
  }
}
