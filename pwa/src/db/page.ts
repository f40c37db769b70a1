// Base rows packed into pages by kind and crop year. Pure: given the rows that came, which pages
// change, and how.
import type { Row } from '../wire.gen';
import type { Page } from './schema';

const mostRows = 200;

export class Pages {
  private readonly pages = new Map<string, Page>();
  private readonly where = new Map<string, string>();

  constructor(pages: Iterable<Page>) {
    for (const page of pages) this.adopt({ key: page.key, rows: [...page.rows] });
  }

  *rows(): Iterable<Row> {
    for (const page of this.pages.values()) yield* page.rows;
  }

  get(id: string): Row | undefined {
    const page = this.pages.get(this.where.get(id) ?? '');
    return page?.rows.find((row) => row.id === id);
  }

  /** Takes rows in and gives the pages that must be written. */
  put(rows: readonly Row[]): Page[] {
    const touched = new Set<Page>();
    for (const row of rows) {
      const page = this.pageOf(row);
      if (page) {
        page.rows = page.rows.filter((old) => old.id !== row.id);
        if (!row.deleted) page.rows.push(row);
        touched.add(page);
      }
      if (row.deleted) this.where.delete(row.id);
      else if (page) this.where.set(row.id, page.key);
    }
    return [...touched];
  }

  private pageOf(row: Row): Page | undefined {
    const held = this.pages.get(this.where.get(row.id) ?? '');
    if (held || row.deleted) return held;
    const prefix = `${row.kind}/${yearOf(row)}/`;
    for (let no = 0; ; no++) {
      const page = this.pages.get(prefix + no) ?? this.adopt({ key: prefix + no, rows: [] });
      if (page.rows.length < mostRows) return page;
    }
  }

  private adopt(page: Page): Page {
    this.pages.set(page.key, page);
    for (const row of page.rows) this.where.set(row.id, page.key);
    return page;
  }
}

function yearOf(row: Row): number {
  const year = (row.body as { cropYear?: unknown } | null)?.cropYear;
  return typeof year === 'number' ? year : 0;
}
