/** Who may import whom. Type imports count too, but where a rule says otherwise. */
const within = (...folders) => `^(${folders.join('|')})/`
const own = ['core', 'db', 'desk', 'electron', 'renderer', 'migrations', 'commands', 'test', 'benchmarks']
const others = (...allowed) => within(...own.filter((folder) => !allowed.includes(folder)))

module.exports = {
  forbidden: [
    { name: 'no-circles', severity: 'error', from: {}, to: { circular: true } },
    { name: 'all-found', severity: 'error', from: {}, to: { couldNotResolve: true } },
    {
      name: 'core-imports-core',
      comment: 'What the shop knows depends on nothing else of ours, and reaches nothing outside.',
      severity: 'error',
      from: { path: within('core') },
      to: { path: others('core') },
    },
    { name: 'core-has-no-io', severity: 'error', from: { path: within('core') }, to: { dependencyTypes: ['core'] } },
    {
      name: 'core-uses-date-fns-alone',
      severity: 'error',
      from: { path: within('core') },
      to: { dependencyTypes: ['npm', 'npm-dev', 'npm-optional'], pathNot: 'node_modules/(date-fns|@date-fns/tz)/' },
    },
    {
      name: 'planning-has-one-door',
      comment: 'What a planner is asked goes through its index; its own tests look behind it.',
      severity: 'error',
      from: { pathNot: '^(test/)?core/planning/' },
      to: {
        path: '^core/planning/',
        pathNot: '^core/planning/index\\.ts$',
      },
    },
    {
      name: 'years-are-worked-by-rules-of-their-own',
      comment: 'What judges the plans of a year shares nothing with what makes them, types included.',
      severity: 'error',
      from: { path: '^benchmarks/year/executor/' },
      to: { pathNot: '^benchmarks/year/executor/' },
    },
    {
      name: 'db-takes-types-of-core',
      comment: 'What the shop remembers has the shapes of core, and none of its computing.',
      severity: 'error',
      from: { path: within('db') },
      to: { path: within('core'), pathNot: '^core/problems\\.ts$', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'db-stands-on-core',
      severity: 'error',
      from: { path: within('db') },
      to: { path: others('core', 'db', 'migrations') },
    },
    {
      name: 'desk-stands-on-db',
      severity: 'error',
      from: { path: within('desk') },
      to: { path: others('core', 'db', 'desk') },
    },
    {
      name: 'shells-know-only-the-desk',
      severity: 'error',
      from: { path: within('electron') },
      to: { path: others('core', 'desk', 'electron') },
    },
    {
      name: 'pages-take-types-of-the-desk',
      comment: 'A page reaches the desk through the client, never as code.',
      severity: 'error',
      from: { path: within('renderer') },
      to: { path: within('desk'), dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'pages-stand-on-core',
      severity: 'error',
      from: { path: within('renderer') },
      to: { path: others('core', 'desk', 'renderer') },
    },
    {
      name: 'pages-use-no-node',
      severity: 'error',
      from: { path: within('renderer') },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'migrations-use-kysely-alone',
      severity: 'error',
      from: { path: within('migrations') },
      to: { pathNot: ['^migrations/', 'node_modules/kysely/'] },
    },
    {
      name: 'the-app-needs-no-tests',
      severity: 'error',
      from: { path: within('core', 'db', 'desk', 'electron', 'renderer', 'migrations') },
      to: { path: within('test', 'benchmarks', 'commands') },
    },
    {
      name: 'electron-in-the-shell-alone',
      severity: 'error',
      from: { pathNot: [within('electron', 'test'), '^benchmarks/start/'] },
      to: { path: 'node_modules/electron/' },
    },
    {
      name: 'browser-mode-without-electron',
      severity: 'error',
      from: { path: '^electron/browser-mode/' },
      to: { reachable: true, path: 'node_modules/electron/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'svelte', 'node', 'default', 'types'],
    },
  },
}
