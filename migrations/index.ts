import type { Migration } from 'kysely/migration'
import { up as firstShop } from './0001-first-shop.ts'
import { up as airThroughTheYear } from './0002-air-through-the-year.ts'
import { up as boardsOnHand } from './0003-boards-on-hand.ts'
import { up as ownConstructions } from './0004-own-constructions.ts'
import { up as homeOfOneOrder } from './0005-home-of-one-order.ts'
import { up as yard } from './0006-yard.ts'
import { up as times } from './0007-times.ts'
import { up as promises } from './0008-promises.ts'
import { up as money } from './0009-money.ts'
import { up as wood } from './0010-wood.ts'
import { up as store } from './0011-store.ts'
import { up as otherwise } from './0012-otherwise.ts'
import { up as standing } from './0013-standing.ts'
import { up as supplies } from './0014-supplies.ts'
import { up as placesAndSchedules } from './0015-wood.ts'
import { up as yearend } from './0016-yearend.ts'
import { up as erasing } from './0017-erasing.ts'
import { up as glueUps } from './0018-wood.ts'
import { up as devices } from './0019-devices.ts'
import { up as chanceAlone } from './0020-promises.ts'
import { up as digests } from './0021-safe.ts'
import { up as growth } from './0022-growth.ts'
import { up as keptAndLost } from './0023-money.ts'
import { up as logByAction } from './0024-growth.ts'
import { up as moreDigests } from './0025-safe.ts'

/** All migrations in order, listed by hand so that they survive bundling. A released one is never edited. */
export const migrations: Readonly<Record<string, Migration>> = {
  '0001-first-shop': { up: firstShop },
  '0002-air-through-the-year': { up: airThroughTheYear },
  '0003-boards-on-hand': { up: boardsOnHand },
  '0004-own-constructions': { up: ownConstructions },
  '0005-home-of-one-order': { up: homeOfOneOrder },
  '0006-yard': { up: yard },
  '0007-times': { up: times },
  '0008-promises': { up: promises },
  '0009-money': { up: money },
  '0010-wood': { up: wood },
  '0011-store': { up: store },
  '0012-otherwise': { up: otherwise },
  '0013-standing': { up: standing },
  '0014-supplies': { up: supplies },
  '0015-wood': { up: placesAndSchedules },
  '0016-yearend': { up: yearend },
  '0017-erasing': { up: erasing },
  '0018-wood': { up: glueUps },
  '0019-devices': { up: devices },
  '0020-promises': { up: chanceAlone },
  '0021-safe': { up: digests },
  '0022-growth': { up: growth },
  '0023-money': { up: keptAndLost },
  '0024-growth': { up: logByAction },
  '0025-safe': { up: moreDigests },
}
