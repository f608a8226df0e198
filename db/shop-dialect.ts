import type SqliteFile from 'better-sqlite3'
import { type DatabaseConnection, SqliteAdapter, SqliteDialect, SqliteDriver } from 'kysely'

/** Kysely's dialect of SQLite, with two things put right that it gets wrong about transactions. */
export class ShopDialect extends SqliteDialect {
  readonly #file: SqliteFile.Database

  constructor(file: SqliteFile.Database) {
    super({ database: file })
    this.#file = file
  }

  override createAdapter(): SqliteAdapter {
    return new TransactionalAdapter()
  }

  override createDriver(): SqliteDriver {
    return new CarefulDriver(this.#file)
  }
}

/** SQLite rolls changes of tables back like any other; saying so makes all pending migrations one transaction. */
class TransactionalAdapter extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true
  }
}

/**
 * On a full or broken disk SQLite has rolled back by itself already: a second time is an error, which would stand in the place
 * of the one that says what happened.
 */
class CarefulDriver extends SqliteDriver {
  readonly #file: SqliteFile.Database

  constructor(file: SqliteFile.Database) {
    super({ database: file })
    this.#file = file
  }

  override async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    if (this.#file.inTransaction) await super.rollbackTransaction(connection)
  }
}
