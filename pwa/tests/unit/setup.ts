// What the unit tests lack of a browser.
import 'fake-indexeddb/auto';
