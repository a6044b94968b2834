import type { Code } from '../diagnostics/catalogue.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import type { DialectDocument, Path } from '../model/document.ts';
import type { Place } from '../text/place.ts';
import { settings } from '../vocabulary/registry.ts';

/** What is found wrong with one dialect, each at its place in it. */
export class Faults {
  readonly findings: Finding[] = [];
  private readonly document: DialectDocument;

  constructor(document: DialectDocument) {
    this.document = document;
  }

  at(code: Code, path: Path, detail: string, wayOut: string, setting?: string): void {
    this.in(code, this.document.place(path), detail, wayOut, setting);
  }

  in(code: Code, place: Place, detail: string, wayOut: string, setting?: string): void {
    this.findings.push(makeFinding(code, { place, detail, wayOut, ...(setting === undefined ? {} : { setting }) }));
  }

  unknownSetting(id: string, path: Path): void {
    const ids = settings.map((setting) => setting.id);
    const near = nearestNames(id, ids);
    this.in(
      'unknown-dialect-setting',
      this.document.keyPlace(path),
      `The vocabulary has no setting ${JSON.stringify(id)}.`,
      near.length > 0 ? `Write ${near.join(' or ')}.` : 'Give it as a raw key under extra in a profile instead.',
    );
  }

  noFile(id: string, path: Path, setting?: string): void {
    const ids = Object.keys(this.document.data.files);
    const near = nearestNames(id, ids);
    this.at(
      'unknown-dialect-file',
      path,
      `This dialect has no file with the id ${JSON.stringify(id)}.`,
      near.length > 0 ? `Write ${near.join(' or ')}.` : `Write one of ${ids.join(', ')}, or add it under files.`,
      setting,
    );
  }
}
