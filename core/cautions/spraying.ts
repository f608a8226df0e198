/** What a small shop needs before anything is sprayed, worst first; reminders as all cautions are, never a statement that it is allowed. */
export const SPRAY_NEEDS: readonly { readonly needs: string; readonly source: string }[] = [
  {
    needs: 'No flame, spark, heater or ordinary motor nearby; gun, can and piece grounded.',
    source: 'ignition: US 29 CFR 1910.107(c)',
  },
  {
    needs: 'An exhaust fan to the outdoors, its motor out of the air stream, a clean filter in front of it.',
    source: 'fan and filter: US 29 CFR 1910.107(b) and (d), 1910.94(c); the motor’s place from memory',
  },
  {
    needs: 'A cartridge mask for organic vapor, gloves, eyes covered; nobody else in the room.',
    source: 'mask and gloves: makers’ labels',
  },
  {
    needs: 'Is spraying allowed here? Ask your town, your landlord and your insurer.',
    source: 'permission: OSHA memorandum 14 Jul 2009, NFPA 33 (title only); whom to ask: common practice, no source',
  },
]
