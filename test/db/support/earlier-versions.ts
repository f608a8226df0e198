import { type Kysely, sql } from 'kysely'

/**
 * What a file of each earlier version held: rows as that version wrote them, put in after its migration. Kept as plain SQL, as
 * today's query modules know only today's tables. A new migration comes with a line here and never changes the others.
 */
export const ROWS_OF_VERSION: Readonly<Record<string, readonly string[]>> = {
  '0001-first-shop': [
    `insert into customer values ('c1', 'Odile Marsh', '555 0100', '', '12 Mill Lane', 'none', 'no')`,
    `insert into commission values
      ('o1', 1, 'c1', 29400000, 'fair', 'agreed', null, '', '2026-12-20', 'a wedding', '2026-12-18', 1.5, 'dark', 32000, 16000, 'cash'),
      ('o2', 2, 'c1', 29400100, 'phone', 'called-off', 'open-end', 'no slab', null, '', null, 1, '', null, 0, '')`,
    `insert into piece values ('p1', 'o1', 0, 'end-grain-board', 'End-grain board', 2, '{"cells":8}')`,
    `insert into step values
      ('s1', 'p1', 0, 1, 1, 2, 'glue', 'glue-up', 'First glue-up', '', 30, 20, 60, 1, 0, 0, 0, 0, null, null, null, '[]'),
      ('s2', 'p1', 1, 1, 1, 2, 'flatten', 'flatten', 'Flatten', 'Both faces', 45, 30, 90, 1, 1, 15, 1, 0, null, 'sander', 10, '["dust"]')`,
    `insert into step_hold values ('s1', 0, 'clamps', 4, 'start-of', null, 's2')`,
    `insert into lag values ('p1', 0, 's1', 's2', 'in-clamps', 'glue in clamps', 240, 120, 480, null, null, null, 'pva_type2', 'label')`,
    `insert into log values
      (1, 1764000000000, 'm1', 'o1', null, null, 'commission-taken', '{"rows":[]}', '{"rows":[]}', null),
      (2, 1764000060000, 'm1', 'o1', 'p1', 's1', 'step-started', '{"step":{"lastEntry":null}}', '{"step":{"did":{"kind":"started"}}}', null),
      (3, 1764000120000, 'm1', 'o1', 'p1', 's1', 'step-done', '{"step":{"lastEntry":2}}', '{"step":{"did":{"kind":"done"}}}', null),
      (4, 1764000180000, 'm1', 'o1', 'p1', 's1', 'taken-back', '{"step":{"lastEntry":2}}', '{"step":{"did":{"kind":"done"}}}', 3)`,
    `insert into running_number values ('commission', 2)`,
    `insert into draft values ('d1', 1764000000000, 1764000200000, '{"customer":"Tam"}')`,
    `insert into notice_shown values ('n1', 1764000000000)`,
    `insert into announced_start values ('s2', 29400500)`,
    `insert into upkeep values ('whole-check', 1764000000000)`,
    `insert into shop values ('shop', 'Heron Lane Woodwork', 'America/Chicago', 'inch', 'USD', 12.5, null, 720)`,
    `insert into own_list values ('makers')`,
    `insert into maker values ('m1', 0, 'Ines', 0.75)`,
    `insert into maker_hours values ('m1', 2, 1140, 1290)`,
    `insert into special_day values ('x1', 0, '2026-12-24', 'closed', null, 'eve')`,
    `insert into special_day_hours values ('x1', 540, 600)`,
    `insert into station values ('st1', 0, 'Long rack', 'rack', 30)`,
    `insert into product values ('glue', 'g1', 0, 'pva_type2', 'The yellow one')`,
    `insert into product_label values ('glue', 'g1', 'clampsOff', 30, 45, 60)`,
    `insert into wood values ('w1', 0, 'Old beam', 'Oak, white')`,
    `insert into standard_time values ('sand', 'Sand', 0, null, 4.5, 'square foot', 0.75, 1.5, 'own log')`,
    `insert into allowance values ('sawKerfNm', 2381250)`,
  ],
  '0002-air-through-the-year': [
    `update shop set heated = 'for-work', warm_up_min = 90, home_damp_rh = 0.7`,
    `insert into unheated_month values (1, -2.5, null), (7, 26, 0.75)`,
  ],
  '0003-boards-on-hand': [
    `insert into photo values ('ph1', 'image/jpeg', 1764000000000, x'ffd8ffe0')`,
    `insert into board values
      ('b1', 1, 'w1', 50800000, 177800000, 2438400000, 'sapwood', 'Rack', 11600, 'cut', 29400000, null, 'ph1'),
      ('b2', 2, 'w1', 50800000, 177800000, 609600000, '', '', null, 'on-hand', 29400200, 'b1', null)`,
    `insert into board_flaw values ('b1', 0, 304800000, 381000000)`,
    `insert into part_cut values ('b1', 0, 'p1', 1, 'Strip', 4, 533400000, 39687500, 38100000)`,
    `insert into running_number values ('board', 2)`,
  ],
  '0004-own-constructions': [
    `insert into own_construction values ('own-block', 0, 'Knife block', '{"about":"Stands.","units":"inch","fields":[],"parts":[],"steps":[]}')`,
  ],
  '0005-home-of-one-order': [
    `update commission set home_dry_c = 22, home_dry_rh = 0.15, home_damp_c = 25, home_damp_rh = 0.4 where id = 'o1'`,
  ],
  '0006-yard': [
    `insert into yard_size values ('thickness', 27000000), ('thickness', 52000000), ('width', 180000000)`,
    `insert into wood_price values ('w1', 1150, 'board-foot')`,
    `update shop set yard_waste = 0.25`,
  ],
  '0007-times': [
    `update step set units = 12, unit_min = 2.5 where id = 's1'`,
    `update shop set follow_times = 'when-accepted'`,
    `insert into time_decision values ('rip-strips', 'mine', 1.75, 29400000), ('sand', 'book', null, 29400060)`,
    `insert into observation_choice values ('s1', 'count')`,
    `insert into asked_time values ('mill-stock', 90, 10, 29300000)`,
  ],
  '0008-promises': [
    `insert into promise values
      (10, 1, 'o1', 'promise', 1764000000000, '2026-12-18', 0.83, '2026-12-12', '2026-12-17', '2026-12-21', '2026-12-10', 'own-day', '', 'book', 'customer', '', null),
      (11, null, 'o2', 'quote', 1764000000000, '2027-01-09', null, null, null, null, null, null, '', 'book', 'customer', '', '2026-12-20')`,
  ],
  '0009-money': [
    `insert into money_fact values ('payPerHourMinor', '2800')`,
    `insert into paper values ('pa1', 'receipt', 1, 'o1', 1764000000000, '2026-11-24', null, '{}')`,
    `update commission set untaxed_why = 'resale 77-1', extra_lines = '[{"name":"Packing","minor":900,"taxed":true}]' where id = 'o1'`,
  ],
  '0010-wood': [
    `insert into shop_figure values ('clampForceN', '3000'), ('goBy', 'careful')`,
    `insert into drying_place values ('p1', 0, 'Box', 'warm-box', 24, 0.4, 2, 5)`,
    `update board set moisture_pct = 8.5, measured_on = '2026-11-20'`,
  ],
  '0011-store': [
    `insert into log (id, at_ms, action, after, checksum) values (9, 1764000000000, 'printed', '{"remark":null}', 'kept as it is')`,
  ],
  '0012-otherwise': [
    `insert into log (id, at_ms, action, after, act, note) values (12, 1764000000000, 'printed', '{"remark":null}', 9, 'for the wall')`,
    `update step set lost = 0 where id = 's1'`,
  ],
  '0013-standing': [
    `update commission set closed_from = 'agreed', closed_why = 'Moved away', told_on = '2026-12-01' where id = 'o2'`,
    `update commission set remind_on = '2026-12-09', belongs_to = 'o2', belongs_as = 'repair', gift_for = 'Tam', gift_address = '9 Hill Road' where id = 'o1'`,
    `update piece set handed_over_on = '2026-12-11' where id = 'p1'`,
    `update customer set notes = 'Rings twice' where id = 'c1'`,
  ],
  '0014-supplies': [
    `update commission set lumber_from = 'customer', lumber_expected_on = '2026-12-05' where id = 'o1'`,
    `update board set here_since = '2026-11-20', bought_for = 'o1'`,
    `insert into supply values ('glue1', 0, 'Glue', 'glue', 'pva_water_resistant', 'g', 300, 100, '2026-11-20', null)`,
  ],
  '0015-wood': [`update drying_place set in_plans = 1`, `insert into own_wait values ('f1', 'drying', 'own', 1.4, 3)`],
  '0016-yearend': [`insert into year_figure values (2026, 'purchases', 289050)`],
  '0017-erasing': [`insert into erasure values ('c9', 1764000000000, 1764000000000)`],
  '0018-wood': [`update step set spread_min = 8 where id = 's1'`],
  '0019-devices': [
    `insert into log (id, at_ms, action, after, device, press_key) values (20, 1764000000000, 'printed', '{"remark":null}', 'Phone', 'press-0001')`,
  ],
  '0020-promises': [
    `insert into promise (commission_id, kind, given_at_ms, day, chance, chance_alone, offer_takes, times, wanted_by, why)
      values ('o2', 'promise', 1764000000000, '2026-12-24', 0.81, 0.88, '', 'learned', 'customer', '')`,
  ],
  '0021-safe': [`insert into photo values ('ph2', 'image/png', 1764000000000, x'01', 'kept as it is')`],
  '0022-growth': [`insert into log (at_ms, action, commission_id) values (1764000000000, 'commission-agreed', 'o2')`],
  '0023-money': [`update commission set kept_minor = 4500 where id = 'o2'`, `update part_cut set lost = 1`],
  '0024-growth': [
    `insert into log (at_ms, action, commission_id) values (1764000000000, 'commission-handed-over', 'o2')`,
  ],
  '0025-safe': [`insert into notice_shown values ('n3', 1764000000000, 'kept as it is')`],
}

export async function fillAsVersion(db: Kysely<unknown>, name: string): Promise<void> {
  for (const statement of ROWS_OF_VERSION[name] ?? []) await sql.raw(statement).execute(db)
}
