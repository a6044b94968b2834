import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import {
  CompletionRequest,
  DidOpenTextDocumentNotification,
  ExitNotification,
  HoverRequest,
  InitializeRequest,
  InitializedNotification,
  PublishDiagnosticsNotification,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
  createProtocolConnection,
} from 'vscode-languageserver-protocol/node.js';
import type { Diagnostic, Hover } from 'vscode-languageserver-protocol/node.js';

/** A YAML language server as an editor uses it: another process, spoken to in the Language Server Protocol 3.17. */
export interface Editor {
  /** Opens a text as the file of this name in profiles/ and waits for what the server says of it. */
  open(name: string, text: string): Promise<readonly Diagnostic[]>;
  /** Labels offered at a place of an opened text; lines and columns from 0. */
  complete(name: string, line: number, character: number): Promise<readonly string[]>;
  /** The text shown for a place of an opened text. */
  hover(name: string, line: number, character: number): Promise<string>;
  close(): Promise<void>;
}

function uriOf(name: string): string {
  // Beside the demo's files, so that a modeline's relative path means the same; nothing is written.
  return pathToFileURL(resolve('profiles', name)).href;
}

function hoverText(hover: Hover | null): string {
  const contents = hover?.contents ?? '';
  if (typeof contents === 'string') return contents;
  return Array.isArray(contents)
    ? contents.map((part) => (typeof part === 'string' ? part : part.value)).join('\n')
    : contents.value;
}

export async function startEditor(): Promise<Editor> {
  const server = spawn(process.execPath, ['node_modules/yaml-language-server/bin/yaml-language-server', '--stdio'], {
    stdio: ['pipe', 'pipe', 'ignore'],
  });
  const connection = createProtocolConnection(
    new StreamMessageReader(server.stdout),
    new StreamMessageWriter(server.stdin),
  );
  const waiting = new Map<string, (diagnostics: readonly Diagnostic[]) => void>();
  connection.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => {
    waiting.get(uri)?.(diagnostics);
    waiting.delete(uri);
  });
  // What the server asks of its editor: settings, and leave to register abilities later.
  connection.onRequest(
    'workspace/configuration',
    ({ items }: { readonly items: readonly { readonly section?: string }[] }) =>
      items.map(({ section }) =>
        section === 'yaml'
          ? { validate: true, hover: true, completion: true, schemaStore: { enable: false, url: '' } }
          : {},
      ),
  );
  connection.onRequest('client/registerCapability', () => null);
  connection.onRequest('workspace/workspaceFolders', () => null);
  connection.listen();
  const rootUri = pathToFileURL(resolve('.')).href;
  await connection.sendRequest(InitializeRequest.type, {
    processId: process.pid,
    rootUri,
    workspaceFolders: [{ uri: rootUri, name: 'thumbwright' }],
    capabilities: {
      workspace: { configuration: true },
      textDocument: {
        completion: { completionItem: { snippetSupport: true, documentationFormat: ['markdown', 'plaintext'] } },
        hover: { contentFormat: ['markdown', 'plaintext'] },
        publishDiagnostics: { relatedInformation: true },
      },
    },
  });
  await connection.sendNotification(InitializedNotification.type, {});
  let version = 0;
  return {
    async open(name, text) {
      const uri = uriOf(name);
      const told = new Promise<readonly Diagnostic[]>((done) => waiting.set(uri, done));
      version += 1;
      await connection.sendNotification(DidOpenTextDocumentNotification.type, {
        textDocument: { uri, languageId: 'yaml', version, text },
      });
      return told;
    },
    async complete(name, line, character) {
      const found = await connection.sendRequest(CompletionRequest.type, {
        textDocument: { uri: uriOf(name) },
        position: { line, character },
      });
      const items = Array.isArray(found) ? found : (found?.items ?? []);
      return items.map(({ label }) => label);
    },
    async hover(name, line, character) {
      return hoverText(
        await connection.sendRequest(HoverRequest.type, {
          textDocument: { uri: uriOf(name) },
          position: { line, character },
        }),
      );
    },
    async close() {
      await connection.sendRequest(ShutdownRequest.type);
      await connection.sendNotification(ExitNotification.type);
      connection.dispose();
      if (server.exitCode === null) await new Promise((done) => server.once('exit', done));
    },
  };
}
