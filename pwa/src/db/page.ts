// Base rows packed into pages by kind and crop year. Pure: given the rows that came, which pages
// change, and how.
import type { Row } from '../wire.gen';
import type { Page } from './schema';

const mostRows = 200;

/** A copy in memory of the pages on the disk; whoever changes the one must change the other. */
export class Pages {
  private readonly pages = new Map<string, Page>();
  private readonly where = new Map<string, Page>();
  /** By kind and year, the first page that may have room. */
  private readonly free = new Map<string, number>();

  constructor(pages: Iterable<Page>) {
    for (const page of pages) {
      this.pages.set(page.key, page);
      for (const row of page.rows) this.where.set(row.id, page);
    }
  }

  *rows(): Iterable<Row> {
    for (const page of this.pages.values()) yield* page.rows;
  }

  get(id: string): Row | undefined {
    return this.where.get(id)?.rows.find((row) => row.id === id);
  }

  /** Takes rows in and gives the pages that must be written. */
  put(rows: readonly Row[]): Page[] {
    const touched = new Set<Page>();
    for (const row of rows) {
      const held = this.where.get(row.id);
      const page = held ?? (row.deleted ? undefined : this.roomy(row));
      if (!page) continue;
      touched.add(page);
      const at = held ? page.rows.findIndex((old) => old.id === row.id) : -1;
      if (at >= 0) page.rows.splice(at, 1);
      if (row.deleted) this.where.delete(row.id);
      else {
        page.rows.push(row);
        this.where.set(row.id, page);
      }
    }
    return [...touched];
  }

  private roomy(row: Row): Page {
    const prefix = `${row.kind}/${yearOf(row)}/`;
    for (let no = this.free.get(prefix) ?? 0; ; no++) {
      const key = prefix + no;
      const page = this.pages.get(key) ?? { key, rows: [] };
      this.pages.set(key, page);
      if (page.rows.length >= mostRows) continue;
      this.free.set(prefix, no);
      return page;
    }
  }
}

function yearOf(row: Row): number {
  const year = (row.body as { cropYear?: unknown } | null)?.cropYear;
  return typeof year === 'number' ? year : 0;
}
