import type { Plugin as EsbuildPlugin } from 'esbuild';
import type { Plugin as VitePlugin } from 'vitest/config';

export function validatorsCode(): string;
export function validatorsPlugin(): EsbuildPlugin;
export function validatorsVitePlugin(): VitePlugin;
