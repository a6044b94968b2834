import type { Plugin as EsbuildPlugin } from 'esbuild';
import type { Plugin as VitePlugin } from 'vitest/config';

export function pageTemplatesPlugin(): EsbuildPlugin;
export function pageTemplatesVitePlugin(): VitePlugin;
