import { fileURLToPath } from 'node:url'
import svelte from 'eslint-plugin-svelte'
import { defineConfig, globalIgnores } from 'eslint/config'
import typescript from 'typescript-eslint'

const typedRules = {
  '@typescript-eslint/no-floating-promises': 'error',
  '@typescript-eslint/no-misused-promises': 'error',
  '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
}

const noEvaluation = { 'no-eval': 'error', 'no-new-func': 'error', 'no-implied-eval': 'error' }

export default defineConfig(
  globalIgnores(['node_modules/', 'out/', 'dist/', 'shots/']),
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  {
    files: ['**/*.ts', '**/*.svelte'],
    extends: [typescript.configs.recommended],
    languageOptions: {
      parserOptions: {
        projectService: true,
        tsconfigRootDir: fileURLToPath(new URL('.', import.meta.url)),
        extraFileExtensions: ['.svelte'],
      },
    },
    rules: {
      ...typedRules,
      ...noEvaluation,
      'max-lines': ['error', { max: 300, skipBlankLines: true, skipComments: true }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      // In arithmetic over arrays that a loop's own bounds keep right, `!` says so more plainly than a check.
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/no-restricted-imports': [
        'error',
        {
          name: 'date-fns',
          message: 'Import the one function, as from date-fns/addDays: all of them take seconds to load.',
        },
      ],
    },
  },
  {
    // A test file is a list of claims about one thing, read one at a time.
    files: ['test/**'],
    rules: { 'max-lines': 'off' },
  },
  {
    // A page draws when it is ready, which on a busy machine is later: a test waits for what it expects.
    files: ['test/app/**', 'test/shell/**'],
    rules: {
      'no-restricted-syntax': [
        'error',
        {
          selector:
            "CallExpression[callee.name='expect'] > AwaitExpression > CallExpression[callee.property.name=/^(innerText|inputValue|count|isVisible|isHidden|isChecked|isDisabled|isEnabled|allInnerTexts|allTextContents|textContent|getAttribute)$/]",
          message: 'Wait for it: await expect.poll(() => locator.count()).toBe(3).',
        },
      ],
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    extends: [svelte.configs.recommended],
    // Under `parserOptions`, as the files themselves are read by the parser for Svelte.
    languageOptions: { parserOptions: { parser: typescript.parser } },
    // Every .svelte file has the types worked out anew. This rule asks for most of them, and takes more time than all the
    // others together; of what it finds, the compiler finds a promise in a condition too.
    rules: { '@typescript-eslint/no-misused-promises': 'off' },
  },
  {
    // The layers are dependency-cruiser's to check; what a .svelte file imports as a type alone it does not see.
    files: ['renderer/**'],
    rules: {
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            {
              regex: '/(db|migrations|electron|commands|test)/',
              message: 'Pages know the desk and core, nothing further down.',
            },
          ],
        },
      ],
    },
  },
  {
    // What the shop knows is computed from what it is given: no clock, no chance, nothing from outside.
    files: ['core/**/*.ts'],
    rules: {
      'no-restricted-globals': [
        'error',
        ...[
          'process',
          'Buffer',
          'fetch',
          'performance',
          'crypto',
          'setTimeout',
          'setInterval',
          'window',
          'document',
          'console',
        ].map((name) => ({ name, message: 'core/ computes; it does not reach outside.' })),
      ],
      'no-restricted-syntax': [
        'error',
        {
          selector: "MemberExpression[object.name='Math'][property.name='random']",
          message: 'Chance comes from a seed that is handed in.',
        },
        {
          selector: "MemberExpression[object.name='Date'][property.name='now']",
          message: 'What time it is, is handed in.',
        },
        {
          selector: "NewExpression[callee.name='Date'][arguments.length=0], CallExpression[callee.name='Date']",
          message: 'What time it is, is handed in.',
        },
      ],
    },
  },
)
