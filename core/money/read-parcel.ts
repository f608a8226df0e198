import { NM_PER_INCH, NM_PER_MILLIMETRE, type LengthUnits } from '../lengths/length.ts'
import { readLength } from '../lengths/read-length.ts'
import { readSizes } from '../lengths/read-sizes.ts'
import { failed, ok, problem, type Problem, type Result } from '../problems.ts'
import { parcelWeight, type CarrierRule, type ParcelWeight } from './parcel.ts'

/** A parcel as it is typed: the piece's three sides, its weight packed (lb or kg), padding on each side, what the carrier says. */
export interface ParcelForm {
  readonly sides: string
  readonly scale: string
  /** Empty: 2 in or 5 cm. */
  readonly cushion: string
  readonly divisor: string
  readonly rounding: CarrierRule['sides']
}

/** Padding on each side where nothing else is typed. @source common practice, no source */
const USUAL_CUSHION = { inch: 2, millimetre: 5 } as const

/**
 * What a carrier bills: inches and pounds in a shop of inches, centimetres and half kilograms in one of millimetres, as carriers print
 * their divisors.
 * Problems: `sides`, `scale`, `cushion`, `divisor`, each about the field of its name.
 */
export function readParcel(form: ParcelForm, units: LengthUnits): Result<ParcelWeight> {
  const unitNm = units === 'inch' ? NM_PER_INCH : 10 * NM_PER_MILLIMETRE
  const sides = readSizes(form.sides, units)
  const [a, b, c, ...more] = sides.ok ? sides.value.map((side) => side / unitNm) : []
  const scale = positive(form.scale)
  const around = readLength(form.cushion, units)
  const cushion = form.cushion.trim() === '' ? USUAL_CUSHION[units] : around.ok ? around.value / unitNm : null
  const divisor = positive(form.divisor)
  if (!a || !b || !c || more.length > 0 || scale === null || cushion === null || divisor === null)
    return failed(
      ...(!a || !b || !c || more.length > 0
        ? [wrong('sides', `Three sides, like ${units === 'inch' ? '16 x 12 x 2' : '400 x 300 x 50'}.`)]
        : []),
      ...(scale === null ? [wrong('scale', 'What it weighs packed, like 9.3.')] : []),
      ...(cushion === null ? [wrong('cushion', `Padding on each side, like ${units === 'inch' ? '2' : '50'}.`)] : []),
      ...(divisor === null
        ? [wrong('divisor', `Your carrier’s divisor, like ${units === 'inch' ? '139' : '5000'}.`)]
        : []),
    )
  const rule = { divisor, sides: form.rounding, weightStep: units === 'inch' ? 1 : 0.5, weights: 'up' } as const
  return ok(parcelWeight([a, b, c], cushion, scale, rule))
}

const wrong = (field: keyof ParcelForm, message: string): Problem => problem(field, message, field)

function positive(typed: string): number | null {
  const number = Number(
    typed
      .trim()
      .replaceAll(/(?<=\d),(?=\d{3}\b)/g, '')
      .replace(',', '.'),
  )
  return typed.trim() !== '' && Number.isFinite(number) && number > 0 ? number : null
}
