import fc from 'fast-check'

// What properties are tried with is drawn. It is drawn alike in every run, so that none fails by its luck; whoever looks for more says so, see
// DEVELOPERS.md.
fc.configureGlobal({ seed: Number(process.env['PROPERTY_SEED'] ?? 20261130) })
