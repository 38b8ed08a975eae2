import tseslint from 'typescript-eslint';

export default tseslint.config(
  {
    ignores: [
      'dist',
      'node_modules',
      'test-results',
      'test/imports/fixture',
      'eslint.config.js',
      'test/mutate/sampleChecker.mjs',
      '.mutants',
      '.dependency-cruiser.cjs',
    ],
  },
  ...tseslint.configs.strictTypeChecked,
  {
    languageOptions: {
      parserOptions: {
        project: ['./core/tsconfig.json', './renderer/tsconfig.json', './tsconfig.json'],
        tsconfigRootDir: import.meta.dirname,
      },
    },
    rules: {
      '@typescript-eslint/consistent-type-imports': ['error', { fixStyle: 'inline-type-imports' }],
      '@typescript-eslint/consistent-type-definitions': 'off',
      '@typescript-eslint/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      eqeqeq: 'error',
    },
  },
  {
    files: ['core/**/*.ts', 'renderer/**/*.ts', 'renderer/**/*.tsx', 'electron/**/*.ts'],
    ignores: ['core/foundation/schema.ts'],
    rules: {
      'no-restricted-imports': [
        'error',
        { name: 'zod', message: 'Take z from core/foundation/schema.ts: it keeps to the content policy.' },
      ],
    },
  },
  {
    files: ['renderer/**/*.ts', 'renderer/**/*.tsx'],
    ignores: ['renderer/desk/**'],
    rules: {
      // State lives in one cell: views read the desk and run commands (DEVELOPERS.md, The desk).
      'no-restricted-syntax': [
        'error',
        {
          selector:
            "AssignmentExpression[left.property.name='value']:not([left.object.property.name='currentTarget'])",
          message: 'Only the desk is written to, and only by commands.',
        },
        {
          selector:
            'Program > :matches(ExpressionStatement, VariableDeclaration, ExportNamedDeclaration) CallExpression[callee.name=/^(signal|computed|effect)$/]:not(:function CallExpression)',
          message: 'No state and no effects at import: state is the desk, effects are made in main.',
        },
      ],
    },
  },
);
