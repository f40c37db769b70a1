// Walks every screen and says what the hand, the sun or a larger text would miss: in English for
// the right hand on paper, in French for the left hand at night, in kilograms, without motion.
//   npm run hand [-- quick] [-- en | fr] [-- scout-phone ...] [-- sheet walk ...]
// Ends with 1 if anything falls short.
import { Program } from '../server.mjs';
import { named, setUnits, tours, walkTour } from '../screens.mjs';
import { measure, sizes } from './measure.mjs';

const asked = process.argv.slice(2);
const quick = asked.includes('quick');
const among = (names) =>
  names.filter((n) => !names.some((m) => asked.includes(m)) || asked.includes(n));
const languages = among(['en', 'fr']);
const wanted = among(tours.map(named));
const names = [...new Set(tours.flatMap((tour) => tour.screens.map((screen) => screen.name)))];
const only = among(names);

/** French walks with every other option too: all are seen, and the way is not longer for it. */
const looks = {
  en: { language: 'en', theme: 'light' },
  fr: { language: 'fr', theme: 'night', hand: 'left', units: 'metric', reducedMotion: 'reduce' },
};

const program = await (await Program.make()).start('--demo');
let screens = 0;
let faults = 0;
try {
  for (const language of languages) {
    if (looks[language].units) await setUnits(program, looks[language].units);
    for (const tour of tours.filter((t) => wanted.includes(named(t)))) {
      const size = tour.place === 'phone' ? sizes[0] : undefined; // the desk keeps its own
      const look = { ...looks[language], size };
      await walkTour(program, tour, look, async (screen, { page }) => {
        if (!only.includes(screen.name)) return;
        const found = await measure(page, { ...screen, place: tour.place, quick });
        screens++;
        faults += found.length;
        if (found.length > 0) console.log(`\n${named(tour)} ${language} ${screen.name}`);
        for (const fault of found) console.log(`  ${fault}`);
      });
    }
  }
} finally {
  await program.stop();
}
console.log(`\n${screens} screens measured, ${faults} faults`);
process.exitCode = faults === 0 ? 0 : 1;
