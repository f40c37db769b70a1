// Firefox ESR by WebDriver BiDi.   apt-get install firefox-esr
import puppeteer from 'puppeteer-core';

export class Firefox {
  name = 'Firefox';

  static async start(url) {
    const driver = new Firefox();
    driver.url = url;
    driver.said = [];
    driver.browser = await puppeteer.launch({
      browser: 'firefox',
      executablePath: process.env.FIREFOX ?? '/usr/bin/firefox-esr',
      headless: true,
      acceptInsecureCerts: true,
      extraPrefsFirefox: { 'intl.accept_languages': 'en-CA' },
    });
    driver.version = await driver.browser.version();
    driver.page = await driver.browser.newPage();
    await driver.page.setViewport({ width: 390, height: 844 });
    driver.page.on('pageerror', (error) => driver.said.push(String(error)));
    return driver;
  }

  open(path) {
    return this.page.goto(this.url + path);
  }

  look(expression) {
    return this.page.evaluate(expression);
  }

  tap(selector) {
    return this.page.click(selector);
  }

  type(selector, text) {
    return this.page.type(selector, text);
  }

  complaints() {
    return this.said;
  }

  stop() {
    return this.browser.close();
  }
}
