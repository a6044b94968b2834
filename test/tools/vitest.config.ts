import { defineConfig } from 'vitest/config';
import { guidesVitePlugin } from './guides.mjs';
import { pageTemplatesVitePlugin } from './page-templates.mjs';
import { pagesVitePlugin } from './pages.mjs';
import { shellTextVitePlugin } from './shell-text.mjs';
import { validatorsVitePlugin } from './validators.mjs';

export default defineConfig({
  root: new URL('../..', import.meta.url).pathname,
  plugins: [
    guidesVitePlugin(),
    pagesVitePlugin(),
    pageTemplatesVitePlugin(),
    shellTextVitePlugin(),
    validatorsVitePlugin(),
  ],
  test: {
    // The command is bundled once, before any test runs it.
    globalSetup: ['test/tools/bundle-once.ts'],
    include: ['test/**/*.test.ts'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    coverage: { provider: 'v8', include: ['src/**'] },
  },
});
