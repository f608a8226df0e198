/**
 * Short reminders at the moment they matter. They are prompts, not training or advice: none of them says that a piece is
 * food-safe or a set-up allowed. `DEFERRAL` is shown once wherever cautions are shown.
 */
export interface Caution {
  readonly id: CautionId
  /** Two or three words to know it by. */
  readonly title: string
  readonly danger: string
  readonly whatToDo: string
  readonly source: string
  /** Comes back on every new piece; the others may be marked as read for a piece. */
  readonly returnsEveryTime: boolean
}

/** The sentence that every screen and paper with cautions carries once. */
export const DEFERRAL =
  'Follow local codes, the maker’s label and safety data sheet, and a licensed or qualified person where one is needed. This note does not replace them.'

/** The rules named are those of the United States, and British and European pages where said; elsewhere the local ones count. */
export const REGION_NOTE =
  'Rules named here are United States ones (and UK HSE, EU-OSHA); elsewhere use the local equivalents.'

/** Worst first: fire and explosion, then lasting injury, then what is caught by asking. This is the order of showing. */
const IN_ORDER = [
  {
    id: 'rag_fire',
    title: 'Oily rags burn by themselves',
    danger: 'Cloths wet with a drying oil heat up and can catch fire on their own, hours later.',
    whatToDo:
      'Never leave them in a heap or a bin. Lay them flat or hang them singly outdoors, away from buildings, until stiff; then into a covered metal can with water and detergent. Ask your town about disposal.',
    source:
      'NFPA, Safety with Oily Rags tip sheet; NFPA Safety Source, 11 May 2017 (about 1,600 home fires a year from spontaneous or chemical reaction)',
    returnsEveryTime: true,
  },
  {
    id: 'spray',
    title: 'Spray burns',
    danger: 'Spray mist and solvent vapor can burn or explode.',
    whatToDo:
      'No flame, spark, heater or ordinary motor nearby; exhaust the air; ground the gear. Check whether spraying is allowed here at all: booth rules count wiring and motors within 20 ft as hazardous.',
    source: 'US 29 CFR 1910.107(a)(2), (b), (c) and 1910.94(c); OSHA memorandum 14 Jul 2009; NFPA 33 (title only)',
    returnsEveryTime: true,
  },
  {
    id: 'engraving',
    title: 'Engraving burns',
    danger: 'A laser sets wood alight, blinds, and makes harmful smoke; resin and glue smoke worst.',
    whatToDo:
      'Lid closed, smoke drawn outdoors, never run it unwatched, extinguisher beside it. With cutters or gouges: clamp the piece, both hands behind the edge.',
    source:
      'maker’s manual; 21 CFR 1040.10 (classes and interlocks of lasers, from memory); the rest: common practice, no source',
    returnsEveryTime: false,
  },
  {
    id: 'sanding_dust_fire',
    title: 'Finish dust self-heats',
    danger: 'Fine dust from oil and polyurethane films can heat up by itself in the bag.',
    whatToDo: 'Empty the collector and its bag outdoors the same day.',
    source: 'Rust-Oleum technical data VAR-05 (2018), warning for floor finishes',
    returnsEveryTime: true,
  },
  // What is so today, and not at every such step, is said before what everybody knows.
  {
    id: 'alone',
    title: 'A long day',
    danger: 'More than ten hours are logged today.',
    whatToDo: 'Stop at a clean point; machines wait.',
    source: 'common practice, no source',
    returnsEveryTime: true,
  },
  {
    id: 'saw',
    title: 'Table saw',
    danger: 'Most table saw injuries are to fingers; about 38,000 emergency-room cases in the US in 2001.',
    whatToDo:
      'Guard and splitter or riving knife on for every through cut. Push stick past your hand width, stand out of the line, never free-hand, let the blade stop. Dado and groove cuts: featherboards and push blocks, hands away.',
    source: '29 CFR 1910.213(a), (c) as summarised; CPSC 76 FR 62678 (2011); CPSC investigation guideline app. 76',
    returnsEveryTime: false,
  },
  {
    id: 'kickback',
    title: 'Kickback',
    danger: 'Pinching, a drifting fence, forcing, a knot or a nail throws the piece back.',
    whatToDo:
      'Straight edge to the fence; cut short slices on a sled; never rip end-grain slices against the fence. Warped or stressed boards: joint an edge first.',
    source: 'CPSC investigation guideline app. 76; slices: common practice, no source',
    returnsEveryTime: false,
  },
  {
    id: 'short_piece',
    title: 'Short pieces',
    danger: 'What is too short to hold gets thrown, or pulls a hand in.',
    whatToDo:
      'Work it on a longer stick and cut it off last. Nothing shorter than the planer’s manual allows (about 12 in), nothing shorter than your hands can hold well away from a cutter; clamp it in a jig or on the sled.',
    source: 'manual of a small planer: about 12 in; the rest: common practice, no source',
    returnsEveryTime: false,
  },
  {
    id: 'tall_fence',
    title: 'Stock on edge tips',
    danger: 'A piece that stands on its edge or end tips into the blade.',
    whatToDo:
      'Screw a tall fence to the rip fence, or use a jig that carries the piece. Featherboard low, hands high, push from behind.',
    source:
      '29 CFR 1910.213(s) (push sticks, push blocks) as summarised; tall fence and jig: common practice, no source',
    returnsEveryTime: false,
  },
  {
    id: 'sled',
    title: 'Crosscut on a sled',
    danger: 'An offcut between fence and blade jams and flies back.',
    whatToDo:
      'Sled or miter gauge with a stop, never together with the rip fence. Clamp small pieces, let the blade stop, then clear the offcuts.',
    source: 'CPSC investigation guideline app. 76 (pinching); sled and stop: common practice, no source',
    returnsEveryTime: false,
  },
  {
    id: 'cutter_head',
    title: 'Jointer and router cutters',
    danger: 'A turning cutter takes fingers, or throws what is too short to hold.',
    whatToDo:
      'Guard over the cutter head, push blocks at the jointer. At the router: fence or template, featherboards, feed against the turn of the cutter, nothing shorter than you can hold well away from it.',
    source:
      '29 CFR 1910.213(j) (jointer guards) and (s) (push sticks and push blocks) as summarised; featherboards and feed: common practice, no source',
    returnsEveryTime: false,
  },
  {
    id: 'planer_end_grain',
    title: 'End grain and planers',
    danger: 'A planer can grab and shatter an end-grain board.',
    whatToDo:
      'Use a drum sander or a router sled; or glue on sacrificial edges and take hair-thin passes, and only if your machine’s manual allows it.',
    source: 'common practice, no source',
    returnsEveryTime: false,
  },
  {
    id: 'isocyanate',
    title: 'Isocyanates',
    danger: 'Polyurethane glue and two-part finishes can start asthma; the glue foams onto skin and stays.',
    whatToDo: 'Gloves and fresh air. If you have asthma, read the data sheet first.',
    source: 'maker’s label; HSE guidance on isocyanates (from memory)',
    returnsEveryTime: false,
  },
  {
    id: 'epoxy_skin',
    title: 'Epoxy on skin',
    danger: 'Resin, hardener and half-cured dust can cause an allergy that lasts for life.',
    whatToDo: 'Nitrile or laminated gloves, not latex; no skin contact; sand only when fully cured.',
    source: 'EU-OSHA OSHwiki, Epoxy resins; NIOSH 76-152; Haz-Map; Kanerva’s Occupational Dermatology, epoxy chapter',
    returnsEveryTime: false,
  },
  {
    id: 'catalysed',
    title: 'Acid catalyst and formaldehyde',
    danger: 'Two-part lacquer, conversion varnish and urea glue give off formaldehyde; the catalyst is acid.',
    whatToDo:
      'Gloves, eyes, air; the exact ratio; mix in plastic or glass, not bare iron or aluminum. Throw the rest away after a day.',
    source: 'Forest Technologies, Conversion Varnishes; maker’s label',
    returnsEveryTime: false,
  },
  {
    id: 'glue_mist_ca',
    title: 'Instant glue',
    danger: 'Bonds skin and eyes at once; its fumes sting.',
    whatToDo: 'Goggles, moving air, solvent within reach, somebody near.',
    source: 'Woodcraft, Instant Glue; maker’s label',
    returnsEveryTime: false,
  },
  {
    id: 'exotherm',
    title: 'Epoxy heats itself',
    danger: 'More than about 100 g mixed, or left in a cup, gets hot and can smoke.',
    whatToDo: 'Small batches, a wide tray, no foam cup.',
    source: 'Gougeon Brothers, Dispensing and Mixing; System Three, Temperature: The Ultimate Variable',
    returnsEveryTime: false,
  },
  {
    id: 'nut',
    title: 'Nut allergy: ask',
    danger: 'Tung, walnut and other nut-derived oils may matter to somebody with a nut allergy.',
    whatToDo: 'Ask the buyer and write the answer on the order.',
    source: 'common practice, no source',
    returnsEveryTime: true,
  },
  {
    id: 'food_contact',
    title: 'Touches food',
    danger: 'A finish that is not fully cured, or not meant for food, does not belong on it.',
    whatToDo:
      'Choose a finish whose maker states that it is meant for food contact once cured; wait for full cure; no scent or tack at hand-over. Do not tell a buyer that it is approved; a food business asks its local food code.',
    source:
      '21 CFR 175.300 and 175.105; FDA Food Code 4-101.17 (as adopted in WA, MN, DC: hard maple or equal for cutting surfaces)',
    returnsEveryTime: true,
  },
  {
    id: 'food_open_film',
    title: 'No film on a chopping face',
    danger: 'A film of polyurethane, lacquer or shellac flakes under a knife.',
    whatToDo: 'Offer oil and wax on chopping faces; film on trays and rims only.',
    source: 'board maker’s journal; common practice, no source',
    returnsEveryTime: true,
  },
  {
    id: 'small_parts',
    title: 'Small parts and children',
    danger:
      'A child under 3 can choke on a part that fits the test cylinder (1.25 in across, from memory), also after rough use.',
    whatToDo: 'Ask who it is for. Things meant for children of 12 and under have tests and labels of their own.',
    source: '16 CFR 1501.1, 1501.4, 1500.51-.52; CPSC guidance on children’s products',
    returnsEveryTime: true,
  },
  {
    id: 'vapour',
    title: 'Solvent vapor',
    danger: 'Solvent fumes harm and can burn.',
    whatToDo:
      'Fresh air through the room, no pilot lights, lids on; a cartridge mask for organic vapor if you smell it.',
    source: 'makers’ labels; 29 CFR 1910.94(c)',
    returnsEveryTime: false,
  },
  {
    id: 'lift',
    title: 'Heavy',
    danger: 'Lifting and twisting hurts backs.',
    whatToDo:
      'Get help or a cart, keep it close, do not twist. About 51 lb (23 kg) is the most under ideal conditions (from memory).',
    source: 'NIOSH, Applications Manual for the Revised Lifting Equation, pub. 94-110 rev. 2021',
    returnsEveryTime: false,
  },
  {
    id: 'dust_lung',
    title: 'Dust',
    danger: 'Wood dust is classed as a cause of nasal cancer (IARC group 1).',
    whatToDo:
      'Collect at the tool and wear a fitted mask. The US limit is 15 mg/m³ total, 5 respirable; recommended is 1 (0.5 for western red cedar).',
    source: 'OSHA, Wood Dust: Evaluating Exposure; IARC Monographs vol. 62 (1995), 100C (2012)',
    returnsEveryTime: false,
  },
  {
    id: 'dust_allergy',
    title: 'This wood irritates',
    danger: 'Some people react to this wood on skin, eyes or lungs, sometimes only after many jobs.',
    whatToDo: 'Cover up, extract, wash; stop if you itch or wheeze. Ask the buyer about allergies.',
    source: 'HSE (UK), Toxic woods, Woodworking Sheet 30 rev. 1, table 2 (list of woods partly from memory)',
    returnsEveryTime: false,
  },
  {
    id: 'noise',
    title: 'Noise',
    danger: 'Measured at 3 ft in one shop: saw 85 dBA, jointer 92, router 93, big planer 99.',
    whatToDo: 'Ear protection. Advice is 85 dBA for 8 hours at most, half the time for each 3 dB more.',
    source: 'Popular Woodworking 140 (Apr 2004) p. 65; NIOSH recommended exposure limit',
    returnsEveryTime: false,
  },
  {
    id: 'hot_glue_pot',
    title: 'Hot glue pot',
    danger: 'Hot water and electricity.',
    whatToDo: 'Steady pot, dry plug, hold it at 60 C.',
    source: 'common practice, no source',
    returnsEveryTime: false,
  },
  {
    id: 'handover',
    title: 'Tell the buyer',
    danger: 'A finish that is dry is not yet hard.',
    whatToDo:
      'Say how long to keep off water, heat, plastic mats and stacking, when to oil again, and what wood does in damp or dry rooms. Give a card with the name of the finish and the date.',
    source: 'finish makers’ care pages (7 days light use, 30 days full); common practice, no source',
    returnsEveryTime: true,
  },
] as const satisfies readonly (Omit<Caution, 'id'> & { readonly id: string })[]

export type CautionId = (typeof IN_ORDER)[number]['id']

/** Every caution, worst first. */
export const CAUTIONS: readonly Caution[] = IN_ORDER

const BY_ID: ReadonlyMap<string, Caution> = new Map(CAUTIONS.map((one) => [one.id, one]))

/** The caution of that id, or null where a stored id is unknown to this version. */
export const caution = (id: string): Caution | null => BY_ID.get(id) ?? null
