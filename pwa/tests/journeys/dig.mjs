// Digging by taps alone, as the journeys do it.

/** Plants as answers in the order in which they are asked. */
export const plants = {
  good: ['vigorous', 'over5', 'pink', 'crownAndLateral'],
  fair: ['vigorous', '3to5', 'pink', 'mostlyCrown'],
  poor: ['small', 'under3', 'white', 'mostlyLateral'],
  bare: ['pale', 'none'],
};

/** Longer than the time within which a second tap is taken for a wet screen's. */
const betweenTapsMS = 90;

export class Digger {
  constructor(page) {
    Object.assign(this, { page, taps: 0 });
  }

  async tap(locator) {
    await locator.tap();
    this.taps++;
    await this.page.waitForTimeout(betweenTapsMS);
  }

  async plant(kind) {
    for (const answer of plants[kind])
      await this.tap(this.page.locator(`[data-answer="${answer}"]`));
  }

  async spot(...kinds) {
    for (const kind of kinds) await this.plant(kind);
  }

  async press(name) {
    await this.tap(this.page.getByRole('button', { name, exact: true }));
  }

  /** A picture for the spot in hand, as a camera would give it, drawn by the browser itself. */
  async photo() {
    const bytes = await this.page.evaluate(async () => {
      const canvas = new OffscreenCanvas(2000, 1500);
      const pen = canvas.getContext('2d');
      pen.fillStyle = '#8a1538';
      pen.fillRect(200, 200, 900, 700);
      const blob = await canvas.convertToBlob({ type: 'image/png' });
      return [...new Uint8Array(await blob.arrayBuffer())];
    });
    const file = { name: 'roots.png', mimeType: 'image/png', buffer: Buffer.from(bytes) };
    await this.page.locator('input[type=file]').setInputFiles(file);
  }
}
