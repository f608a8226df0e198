import { type Right, RIGHTS } from '../../db/kept-devices.ts'

/** What a device may ask the desk, and the least right that it takes. Everything that is not in here is for the desk alone. */
const NEEDED: ReadonlyMap<string, Right> = new Map<string, Right>([
  ...(
    [
      'shopState',
      'almanac',
      'caughtUp',
      'bench',
      'rack',
      'commission',
      'orderNumbered',
      'whatWouldHelp',
      'whyDate',
      'yourWaits',
      'milledBoards',
      'noticesDue',
      'noticesTold',
    ] as const
  ).map((name) => [name, 'see'] as const),
  ...(
    [
      'stepStart',
      'stepPause',
      'stepDone',
      'stepDoneWhen',
      'stepFailed',
      'stepStillTacky',
      'stepFoundReady',
      'stepPin',
      'pieceMove',
      'makerAway',
      'undo',
      'lumberHere',
      'lumberNotYet',
      'lumberRested',
      'supplyOut',
      'supplyHere',
      'boardsMilled',
      'woodOffList',
      'noticeSleep',
    ] as const
  ).map((name) => [name, 'press'] as const),
  ...(
    ['drafts', 'draftLoad', 'draftSave', 'draftDiscard', 'draftQuote', 'customers', 'madeBefore', 'takeOrder'] as const
  ).map((name) => [name, 'orders'] as const),
])

/** Whether a device with this right may ask for this. */
export function mayCall(right: Right, name: string): boolean {
  const needed = NEEDED.get(name)
  return needed !== undefined && RIGHTS.indexOf(right) >= RIGHTS.indexOf(needed)
}

/** All that any device may ever ask for. */
export const openToDevices: readonly string[] = [...NEEDED.keys()]
