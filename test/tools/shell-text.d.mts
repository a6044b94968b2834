import type { Plugin } from 'vite';

export function shellTextVitePlugin(): Plugin;
