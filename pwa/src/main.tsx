// The program itself: opens what is on the device, shows a screen, then calls the courier.
import { render } from 'preact';
import { useEffect } from 'preact/hooks';
import { lazy, LocationProvider, Route, Router, useLocation } from 'preact-iso';
import { draftsLoaded } from './state/dig';
import { watchPhotos } from './state/photo';
import { atDesk } from './state/place';
import { watchBeside } from './state/beside';
import { boot, booted, bootError, open, role, watch } from './state/session';
import { keepProgram } from './state/update';
import { openPractice, practiceChosen } from './state/practice';
import { opening } from './state/sight';
import { opensWithWalk, orderFirst } from './state/today';
import { t } from './state/words';
import { DigDoor } from './screens/dig-door';
import { Dug } from './screens/dug';
import { FieldScreen } from './screens/field';
import { Fields } from './screens/fields';
import { HandIn } from './screens/hand-in';
import { NotHere } from './screens/not-here';
import { Practice, PracticeBand } from './screens/practice';
import { FirstOwner, ResetAccess, SignIn } from './screens/sign-in';
import { Today } from './screens/today';
import { NotKept } from './ui/not-kept';

const PassScreen = lazy(() => import('./screens/pass-form').then((m) => m.PassScreen));
const SeedingScreen = lazy(() => import('./screens/seeding-form').then((m) => m.SeedingScreen));
const PricesScreen = lazy(() => import('./screens/prices-form').then((m) => m.PricesScreen));
const Order = lazy(() => import('./screens/order').then((m) => m.Order));
const Look = lazy(() => import('./screens/look').then((m) => m.Look));
const Settings = lazy(() => import('./screens/settings').then((m) => m.Settings));
const MorningCheck = lazy(() => import('./screens/ready').then((m) => m.MorningCheck));
const BlankSheet = lazy(() => import('./screens/sheet').then((m) => m.BlankSheet));
const FieldSheet = lazy(() => import('./screens/sheet').then((m) => m.FieldSheet));
const About = lazy(() => import('./screens/about').then((m) => m.About));
const Model = lazy(() => import('./screens/model').then((m) => m.Model));
const Desk = lazy(() => import('./screens/desk').then((m) => m.Desk));
const People = lazy(() => import('./screens/people').then((m) => m.People));
const Me = lazy(() => import('./screens/me').then((m) => m.Me));
const Audit = lazy(() => import('./screens/audit').then((m) => m.Audit));
const Own = lazy(() => import('./screens/own').then((m) => m.Own));
const Enrol = lazy(() => import('./screens/enrol').then((m) => m.Enrol));
const Welcome = lazy(() => import('./screens/enrol').then((m) => m.Welcome));
const Account = lazy(() => import('./screens/account').then((m) => m.Account));
const Review = lazy(() => import('./screens/review').then((m) => m.Review));
const Correct = lazy(() => import('./screens/correct').then((m) => m.Correct));
const Walk = lazy(() => import('./screens/walk').then((m) => m.Walk));
const OutlineForm = lazy(() => import('./screens/outline-form').then((m) => m.OutlineForm));
const Outlines = lazy(() => import('./screens/outlines').then((m) => m.Outlines));
const RescueCall = lazy(() => import('./screens/rescue').then((m) => m.RescueCall));
const Paper = lazy(() => import('./screens/paper').then((m) => m.Paper));

const First = () => (atDesk.value ? <Desk /> : <Fields />);
const firstPath = (): string => (opensWithWalk.value ? '/today' : '/');

/** Where the app opens from the home screen. */
function Start() {
  const { route } = useLocation();
  useEffect(() => route(firstPath(), true), []);
  return null;
}
const OneField = ({ id = '' }: { id?: string }) =>
  atDesk.value ? <Desk id={id} /> : <FieldScreen id={id} />;

function Doors() {
  return (
    <Router>
      <Route path="/first-owner" component={FirstOwner} />
      <Route path="/reset-access" component={ResetAccess} />
      <Route path="/practice" component={Practice} />
      <Route path="/enrol" component={Enrol} />
      <Route default component={SignIn} />
    </Router>
  );
}

function Screens() {
  return (
    <Router>
      <Route path="/" component={First} />
      <Route path="/field/:id" component={OneField} />
      <Route path="/field/:id/dig" component={DigDoor} />
      <Route path="/field/:id/dug/:dig" component={Dug} />
      <Route path="/field/:id/walk" component={Walk} />
      <Route path="/field/:id/outline" component={OutlineForm} />
      <Route path="/outlines" component={Outlines} />
      <Route path="/order" component={Order} />
      <Route path="/field/:id/paper" component={Paper} />
      <Route path="/field/:id/sheet" component={FieldSheet} />
      <Route path="/sheet" component={BlankSheet} />
      <Route path="/field/:id/rescue" component={RescueCall} />
      <Route path="/start" component={Start} />
      <Route path="/today" component={Today} />
      <Route path="/field/:id/pass" component={PassScreen} />
      <Route path="/field/:id/seeding" component={SeedingScreen} />
      <Route path="/prices" component={PricesScreen} />
      <Route path="/hand-in" component={HandIn} />
      <Route path="/field/:id/dug/:dig/correct" component={Correct} />
      <Route path="/review" component={Review} />
      <Route path="/look" component={Look} />
      <Route path="/settings" component={Settings} />
      <Route path="/about" component={About} />
      <Route path="/practice" component={Practice} />
      <Route path="/ready" component={MorningCheck} />
      <Route path="/model" component={Model} />
      <Route path="/people" component={People} />
      <Route path="/account" component={Account} />
      <Route path="/sign-in" component={SignIn} />
      <Route path="/first-owner" component={FirstOwner} />
      <Route path="/reset-access" component={ResetAccess} />
      <Route path="/enrol" component={Enrol} />
      <Route path="/me" component={Me} />
      <Route path="/audit" component={Audit} />
      <Route path="/welcome" component={Welcome} />
      <Route default component={NotHere} />
    </Router>
  );
}

/** A grower looks in: the own fields and the own sign-in, nothing else. */
function Looking() {
  return (
    <Router>
      <Route path="/me" component={Me} />
      <Route path="/settings" component={Settings} />
      <Route path="/about" component={About} />
      <Route path="/sign-in" component={SignIn} />
      <Route path="/enrol" component={Enrol} />
      <Route default component={Own} />
    </Router>
  );
}

function App() {
  if (!booted.value) return null;
  if (bootError.value)
    return <p class="error boot">{t('boot.failed', { why: bootError.value })}</p>;
  return (
    <LocationProvider>
      <PracticeBand />
      <Inside />
      <NotKept />
    </LocationProvider>
  );
}

function Inside() {
  if (!open.value) return <Doors />;
  const { farm, person } = open.value.known;
  return role.value === 'grower' ? <Looking /> : <Screens key={farm + person} />;
}

/** The last sight stands until the screen has as much to show, or a finger wants another. */
async function seenFirst(): Promise<void> {
  const tapped = new Promise<void>((done) =>
    addEventListener('click', () => done(), { once: true }),
  );
  // The screen comes in a task of its own: a tap between what was read and what is drawn is heard.
  const ready = location.pathname === '/today' ? orderFirst() : new Promise<void>((done) => setTimeout(done));
  await Promise.race([ready, tapped]);
}

/** What the front door hears: right before the first screen of the program's own, and after it. */
interface Door {
  opened: () => void;
  drawn: () => void;
}

/** Runs in the page's root. */
export async function run(root: HTMLElement, door: Door): Promise<void> {
  await (practiceChosen() ? boot(openPractice) : boot());
  await draftsLoaded();
  if (open.value && location.pathname === opening) history.replaceState(null, '', firstPath());
  if (root.firstChild) await seenFirst();
  door.opened();
  render(<App />, root);
  door.drawn();
  performance.mark('run');
  watch();
  watchPhotos();
  watchBeside();
  await keepProgram();
}
