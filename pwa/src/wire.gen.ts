// Generated from internal/wire by `go generate ./internal/wire`. Do not edit.

export const SCHEMA = 1;
export const PROTO = 1;
export const MAX_PUSH = 1000;
export const MAX_BODY_BYTES = 4194304;
export const MAX_REASON = 1000;
export const MAX_DECISION_DIGS = 20;
/** The crops that the engine can work out. */
export const CROPS = [
  'desiChickpea',
  'dryBean',
  'fabaBean',
  'kabuliChickpea',
  'lentil',
  'pea',
  'soybean',
] as const;
/** Of them, those judged by counting nodules. */
export const COUNTED: readonly string[] = ['soybean'];
/** Characters. */
export const MAX_NAME = 120;
export const MAX_NOTE = 4000;
/** The least and the most of an area, by unit. */
export const AREA = { ac: [0.01, 100000], ha: [0.01, 40468.564224] } as const;
/** The most that a season may say, by field and unit; the least is 0. */
export const SEASON_MOST = {
  harvested: { 'bu/ac': 300, 'kg/ha': 20000 },
  nitrogen: { 'kg/ha': 449, 'lb/ac': 400 },
  seedDepth: { 'cm': 20.3, 'in': 8 },
  seedRate: { 'kg/ha': 672, 'lb/ac': 600 },
  starterUsed: { 'kg/ha': 224, 'lb/ac': 200 },
} as const;

export interface Settings {
  name: string;
  timeZone: string;
  currency: string;
  units: string;
  starterRule: string;
  nodeCount: string;
  nitrogenPrice?: Quantity;
  prices?: Prices;
  rules?: Rules;
  today?: string;
}

export interface Grower {
  name: string;
  language?: string;
  note?: string;
  archived?: boolean;
}

export interface Field {
  grower: string;
  name: string;
  area?: Quantity;
  outline?: unknown;
  soilZone?: string;
  texture?: string;
  freeLime?: boolean;
  rootRot?: RootRot;
  note?: string;
  archived?: boolean;
}

export interface Season {
  field: string;
  cropYear: number;
  part?: string;
  crop: string;
  status?: string;
  alsoHosts?: string[];
  inoculated?: boolean;
  nodulation?: string;
  flooded?: boolean;
  harvested?: Quantity;
  nitrogen?: Quantity;
  note?: string;
  protein?: number;
  seedRate?: Quantity;
  seedDepth?: Quantity;
  starterUsed?: Quantity;
  seeding?: Seeding;
  drill?: Drill;
  rescue?: Rescue;
  chickpea?: Quantity;
  strips?: Strip[];
  yield?: Quantity;
  price?: Quantity;
  nitrogenPrice?: Quantity;
  fertilizers?: Fertilizer[];
  placement?: string;
  openerSpread?: Quantity;
  rowSpacing?: Quantity;
  seedbed?: string;
  season?: string;
  inoculants?: Inoculant[];
  seeded?: string;
  emerged?: string;
}

export interface SoilTest {
  field: string;
  cropYear?: number;
  note?: string;
  sampled: string;
  layers: Layer[];
  ppmRule?: string;
  bulkDensity?: number;
  ph?: PH;
  organicMatter?: number;
}

export interface Dig {
  field: string;
  cropYear: number;
  date: string;
  node?: Node;
  spots: DigSpot[];
  suspicions?: string[];
  notSeen?: string[];
  stand?: Stand[];
  weeds?: string;
  airTemp?: Quantity;
  note?: string;
}

export interface Decision {
  field: string;
  cropYear: number;
  digs: string[];
  choice: string;
  rate?: Quantity;
  product?: string;
  byDay?: string;
  reason: string;
  date: string;
  who: string;
}

export interface Result {
  field: string;
  cropYear: number;
  crop: string;
  inputHash: string;
  engineVersion: string;
  computedAt: string;
  headline: Headline;
  problem?: Problem;
  conflicts?: string[];
}

export interface SyncRequest {
  proto: number;
  schema: number;
  device: string;
  epoch: string;
  cursor: number;
  floor?: number;
  push: unknown[];
}

export interface Mutation {
  n: number;
  schema: number;
  rec: string;
  kind: string;
  base: number;
  set?: { [name: string]: unknown };
  del?: boolean;
  phoneTime: string;
  was?: Was;
}

export interface SyncResponse {
  epoch: string;
  head: number;
  cursor: number;
  floor?: number;
  serverTime: string;
  acks: Ack[];
  rows: Row[];
  more?: boolean;
  reset?: boolean;
  judged?: Judged[];
  stale?: boolean;
  expect?: number;
}

export interface Asides {
  asides: Aside[];
}

export interface SettleAside {
  device: string;
  ns: number[];
  take: boolean;
}

export interface Judgements {
  judged: Judged[];
}

export interface Session {
  farm: string;
  accountName: string;
  person: Person;
  access: string;
  accessUntil: string;
  lastN: number;
  serverTime: string;
  until: string;
}

export interface SignIn {
  login: string;
  password: string;
  device: string;
  deviceName: string;
  key?: string;
  code?: string;
  farm?: string;
  known?: { [name: string]: string };
}

export interface Which {
  accounts: Membership[];
}

export interface FirstOwner {
  link: string;
  account: string;
  name: string;
  login: string;
  password: string;
  timeZone: string;
  currency: string;
  device: string;
  deviceName: string;
  key?: string;
}

export interface ResetAccess {
  link: string;
  password: string;
  device: string;
  deviceName: string;
  key?: string;
}

export interface NewPerson {
  name: string;
  role: string;
  language?: string;
  grower?: string;
}

export interface FieldLine {
  id: string;
  field: unknown;
  result?: unknown;
}

export interface Nonce {
  nonce: string;
}

export interface Refresh {
  farm: string;
  device: string;
  former?: string;
  nonce: string;
  signature: string;
}

export interface Ticket {
  ticket: string;
  until: string;
}

export interface Member {
  id: string;
  name: string;
  login?: string;
  role: string;
  archived?: boolean;
  language?: string;
  grower?: string;
  alias?: boolean;
  hasLogin?: boolean;
  devices: Device[];
}

export interface EditPerson {
  name?: string;
  language?: string;
  archived?: boolean;
}

export interface NewCode {
  origin: string;
}

export interface Code {
  code: string;
  link: string;
  qr: string[];
  until: string;
}

export interface Enrol {
  code?: string;
  link?: string;
  login?: string;
  password?: string;
  device: string;
  deviceName: string;
  key: string;
}

export interface Me {
  login: string;
  hasPassword: boolean;
  second: boolean;
  recoveryLeft: number;
  devices: Device[];
  here: string;
}

export interface SetPassword {
  old: string;
  password?: string;
}

export interface SecondStart {
  secret: string;
  address: string;
  qr: string[];
}

export interface SecondCode {
  code: string;
}

export interface EndSecond {
  old: string;
  code: string;
}

export interface RecoveryCodes {
  codes: string[];
}

export interface AuditLine {
  id: number;
  at: string;
  who: string;
  person: string;
  device: string;
  deviceName: string;
  action: string;
  subject: string;
  subjectName: string;
}

export interface FieldResult {
  result: Result;
  report: unknown;
  older: Result[];
}

export interface Request {
  op: string;
  input?: Input;
  records?: Record[];
  field?: string;
  cropYear?: number;
  dig?: string;
  outline?: unknown;
  area?: Quantity;
  round?: Round;
  spots?: number;
}

export interface Reply {
  ok?: Answer;
  outline?: Outlined;
  dig?: DigPart;
  stop?: Stop;
  order?: Order;
  error?: Problem;
}

export interface Input {
  schema: number;
  crop: string;
  cropYear: number;
  starterRule: string;
  nodeCount: string;
  ground: Ground;
  soilTest?: EngineSoilTest;
  history: EngineSeason[];
  plan: Plan;
  digs: EngineDig[];
  rules: Rules;
  prices: Prices;
  seeding?: Seeding;
  drill?: Drill;
  weather?: DayTemp[];
  climate?: DayTemp[];
  passes?: EnginePass[];
  rescue?: Rescue;
  harvest?: Harvest;
  rootRot?: RootRot;
  chickpea?: Quantity;
  strips?: Strip[];
  area?: Quantity;
}

export interface Report {
  schema: number;
  engineVersion: string;
  crop: string;
  cropYear: number;
  nitrogen: NitrogenPart;
  starter: StarterPart;
  rhizobia: RhizobiaPart;
  inoculation: InoculantPart;
  digs: DigPart[];
  facts: CropPart;
  products: ProductPart;
  seeding: SeedingPart;
  stage: StagePart;
  rescue: RescuePart;
  stress: StressPart;
  balance: BalancePart;
  rotation: RotationPart;
  strips: StripPart;
  value: ValuePart;
  headline: Headline;
  missing: Message[];
  cautions: Message[];
  sources: Source[];
}

export interface Conflict {
  record: string;
  of: string;
  field?: string;
  name: string;
  values: ConflictValue[];
}

export interface Settle {
  record: string;
  name: string;
  take: number;
}

export interface Correction {
  dig: string;
  field: string;
  plant?: string;
  drop?: boolean;
  right?: Plant;
  date?: string;
  node?: Node;
  suspicions?: string[];
  why: string;
}

export interface Photo {
  field: string;
  dig?: string;
  spot?: string;
  sha256: string;
  size: number;
  w: number;
  h: number;
  thumb?: string;
  takenAt: string;
  place?: PhotoPlace;
  note?: string;
  stored?: boolean;
}

export interface Pass {
  field: string;
  cropYear: number;
  what: string;
  note?: string;
  product: string;
  date: string;
  time?: string;
  reEntryHours?: number;
  reCrop?: string;
}

export interface Assignment {
  field: string;
  cropYear: number;
  person: string;
  note?: string;
}

export interface Quantity {
  value: number;
  unit: string;
}

export interface Prices {
  seed?: Quantity;
  pass?: Quantity;
  products?: ProductPrice[];
  inoculant?: InoculantCost[];
  soilTest?: Quantity;
  dig?: Quantity;
}

export interface Rules {
  dryBeanN?: string;
  soybeanCount?: string;
  degreeDays?: string;
  credit?: string;
  root?: string;
  rescueRate?: string;
  fallTest?: string;
  seedFormula?: string;
}

export interface RootRot {
  confirmed?: boolean;
  tested?: boolean;
  wetHost?: boolean;
}

export interface Seeding {
  tkw?: Quantity;
  stand?: Quantity;
  germination?: number;
  mortality?: number;
}

export interface Drill {
  granularRate?: Quantity;
  granularSpacing?: Quantity;
  cellsPerGram?: number;
  seedRowP2O5?: Quantity;
}

export interface Rescue {
  rate?: Quantity;
  on?: string;
  rain?: Quantity;
  inhibitor?: boolean;
  product?: string;
  stage?: string;
}

export interface Strip {
  with: Quantity;
  without: Quantity;
}

export interface Fertilizer {
  product: string;
  rate: Quantity;
  placement: string;
}

export interface Inoculant {
  form: string;
  cellsPerSeed?: number;
  treatmentClass?: number;
  hoursOnSeed?: number;
  labelHours?: number;
  state?: string;
}

export interface Layer {
  top: Quantity;
  bottom: Quantity;
  nitrate: Quantity;
}

export interface PH {
  value: number;
  basis: string;
}

export interface Node {
  count: number;
  convention: string;
}

export interface DigSpot {
  id: string;
  longitude?: number;
  latitude?: number;
  note?: string;
  plants: DigPlant[];
}

export interface Stand {
  plants: number;
  row?: Quantity;
  spacing?: Quantity;
  hoop?: Quantity;
}

export interface Headline {
  starterDecision: string;
  starterN?: number;
  option: string;
  fail?: number;
  failLow?: number;
  failHigh?: number;
  lossShare?: number;
  lossLow?: number;
  lossHigh?: number;
  digClass?: string;
  digEnough?: string;
  missing: string[];
}

export interface Problem {
  code: string;
  field?: string;
  message: string;
}

export interface Was {
  device: string;
  n: number;
}

export interface Ack {
  n: number;
  outcome: string;
  seq?: number;
  problem?: Problem;
}

export interface Row {
  id: string;
  kind: string;
  seq: number;
  deleted?: boolean;
  by?: string;
  body: unknown;
}

export interface Judged {
  device: string;
  n: number;
  outcome: string;
  seq?: number;
  problem?: Problem;
}

export interface Aside {
  device: string;
  deviceName: string;
  shutOut?: boolean;
  person: string;
  personName: string;
  n: number;
  receivedAt: string;
  problem: Problem;
  text: string;
}

export interface Person {
  id: string;
  name: string;
  login?: string;
  role: string;
  archived?: boolean;
}

export interface Membership {
  farm: string;
  accountName: string;
  name: string;
  role: string;
}

export interface Device {
  id: string;
  person: string;
  name: string;
  seenAt: string;
  lastN: number;
  open: boolean;
  revoked?: string;
}

export interface Record {
  id: string;
  kind: string;
  seq?: number;
  body: unknown;
}

export interface Round {
  now: string;
  stops: Stop[];
}

export interface Answer {
  input: Input;
  inputHash: string;
  report: Report;
}

export interface Outlined {
  area: Quantity;
  areaAcres: Quantity;
  differs?: boolean;
  findings?: Finding[];
  spots?: Place[];
  edge?: Figure;
  count?: Figure;
  sources?: Source[];
}

export interface DigPart {
  id: string;
  when: string;
  plants: number;
  counted: number;
  adequate: number;
  notYet: number;
  share: Figure;
  other: NamedFigure[];
  score: Figure;
  scoreA: Figure;
  scoreB: Figure;
  scoreC: Figure;
  band: string;
  nearEdge: boolean;
  class: string;
  enough: string;
  moreSpots: number;
  patchy: boolean;
  daysEmerged?: number;
  failBefore: Figure;
  fail: Figure;
  good: Figure;
  adequateMean: Figure;
  rhizobiaAfter: Figure;
  plantResults: PlantResult[];
  stand: Figure;
  messages: Message[];
}

export interface Stop {
  field: string;
  visits: Visit[];
  basis?: string;
  fail?: number;
  worth?: number;
  worthAcre?: number;
  area?: Quantity;
  metres?: number;
  passes?: EnginePass[];
}

export interface Order {
  turns: Turn[];
  rule: Message;
  kind: string;
}

export interface Ground {
  soilZone?: string;
  texture?: string;
  freeLime?: boolean;
}

export interface EngineSoilTest {
  sampled: string;
  layers: Layer[];
  ppmRule?: string;
  bulkDensity?: number;
  ph?: PH;
  organicMatter?: number;
}

export interface EngineSeason {
  cropYear: number;
  crop: string;
  alsoHosts?: string[];
  inoculated?: boolean;
  nodulation?: string;
  flooded?: boolean;
  harvested?: Quantity;
  nitrogen?: Quantity;
}

export interface Plan {
  yield?: Quantity;
  price?: Quantity;
  nitrogenPrice?: Quantity;
  fertilizers?: Fertilizer[];
  placement?: string;
  openerSpread?: Quantity;
  rowSpacing?: Quantity;
  seedbed?: string;
  season?: string;
  inoculants?: Inoculant[];
  seeded?: string;
  emerged?: string;
}

export interface EngineDig {
  id: string;
  date: string;
  node?: Node;
  spots: Spot[];
  suspicions?: string[];
  stand?: Stand[];
  airTemp?: Quantity;
}

export interface DayTemp {
  date: string;
  max: Quantity;
  min: Quantity;
}

export interface EnginePass {
  product: string;
  date: string;
  time?: string;
  reEntryHours?: number;
  reCrop?: string;
}

export interface Harvest {
  yield?: Quantity;
  protein?: number;
  ndfa?: number;
  labCredit?: Quantity;
}

export interface NitrogenPart {
  to6in: Figure;
  to12in: Figure;
  to24in: Figure;
  residual: Figure;
  external: Figure;
  supplyShare: Figure;
  notes: Message[];
}

export interface StarterPart {
  chosen: string;
  published: StarterSet;
  practice: StarterSet;
  seedRow: Figure;
  others: NamedFigure[];
}

export interface RhizobiaPart {
  now: Figure;
  walk: Walk[];
}

export interface InoculantPart {
  options: Option[];
  planned?: Option;
  advice: string;
  reasons: Message[];
  rule?: string;
  response?: string;
  sources: string[];
}

export interface CropPart {
  group: string;
  stand: Figure;
  uptake: Figure;
  removal: Figure;
  seedRowP: Figure;
  sources: string[];
}

export interface ProductPart {
  lines: ProductLine[];
  notes: Message[];
}

export interface SeedingPart {
  rate: Figure;
  other: Figure;
  survival: Figure;
  total: Figure;
  cost: Figure;
  granular: Figure;
  dose: Figure;
  notes: Message[];
}

export interface StagePart {
  basis: string;
  emerged: Window;
  look: Window;
  decide: Window;
  record: Window;
  lastN: Window;
  heat: Heat[];
  nodes: Figure;
  notes: Message[];
  next: Next;
}

export interface RescuePart {
  offered: string;
  on?: string;
  rate: Figure;
  lost: Figure;
  lostMoney: Figure;
  cost: Figure;
  gain: Figure;
  limit: string;
  net: Figure;
  pays: Figure;
  breakEvenPrice: Figure;
  breakEvenYield: Figure;
  lastDay: Window;
  other: Figure[];
  messages: Message[];
}

export interface StressPart {
  keepOutUntil?: string;
  labelUnread?: boolean;
  passes: Message[];
  explains: Message[];
  hold: Message[];
}

export interface BalancePart {
  fixed: Figure;
  removed: Figure;
  net: Figure;
  netByRoot: NamedFigure[];
  withFertilizer: Figure;
  credit: NamedFigure[];
  chosen: string;
  messages: Message[];
}

export interface RotationPart {
  hostFreeYears: Figure;
  rootRot: string;
  messages: Message[];
}

export interface StripPart {
  pairs: number;
  mean: Figure;
  t: Figure;
  p: Figure;
  flipped: Figure;
  messages: Message[];
}

export interface ValuePart {
  dig: Figure;
  digField: Figure;
  test: Figure;
  testField: Figure;
  perfect: Figure;
  messages: Message[];
}

export interface Message {
  code: string;
  args?: { [name: string]: Arg };
}

export interface Source {
  key: string;
  kind: string;
  author?: string;
  year?: number;
  title: string;
  locator?: string;
}

export interface ConflictValue {
  value: unknown;
  person: string;
  device: string;
  seq: number;
  at?: string;
  said?: string;
}

export interface Plant {
  vigour: string;
  nodules: string;
  inside?: string;
  position: string;
  count?: number;
  pink?: number;
}

export interface PhotoPlace {
  longitude: number;
  latitude: number;
  within?: number;
}

export interface ProductPrice {
  product: string;
  price: Quantity;
}

export interface InoculantCost {
  form: string;
  cost: Quantity;
}

export interface DigPlant {
  id: string;
  vigour: string;
  nodules: string;
  inside?: string;
  position: string;
  count?: number;
  pink?: number;
}

export interface Finding {
  code: string;
  place: Place;
}

export interface Place {
  longitude: number;
  latitude: number;
}

export interface Figure {
  value?: number;
  unit: string;
  low?: number;
  high?: number;
  median?: number;
  kind: string;
  unknown?: Message;
  steps?: Step[];
  sources?: string[];
  changes?: Message[];
}

export interface NamedFigure {
  rule: string;
  figure: Figure;
}

export interface PlantResult {
  spot: number;
  a: number;
  b: number;
  c: number;
  result: string;
}

export interface Visit {
  visit: string;
  date?: string;
  from?: string;
  to?: string;
}

export interface Turn {
  field: string;
  entry: string;
  until?: string;
  passes: Message[];
  visit: string;
  due: string;
  why: Message[];
  bring: string[];
}

export interface Spot {
  plants: Plant[];
}

export interface StarterSet {
  decision: string;
  rate: Figure;
  withProduct: Figure;
  limit?: Message;
  reasons: Message[];
}

export interface Walk {
  cropYear: number;
  crop: string;
  level: number;
  notes?: Message[];
}

export interface Option {
  key: string;
  adequate: Figure;
  fail: Figure;
  good: Figure;
  lossShare: Figure;
  lossYield: Figure;
  lossMoney: Figure;
  cost: Figure;
  netReturn: Figure;
  pays: Figure;
  notAllowed?: Message;
  notes?: Message[];
}

export interface ProductLine {
  product: string;
  exact: Figure;
  set: Figure;
  other: Figure[];
  total: Figure;
  costPerLbN: Figure;
  cost: Figure;
}

export interface Window {
  date?: string;
  from?: string;
  to?: string;
  unknown?: Message;
  kind: string;
  sources?: string[];
}

export interface Heat {
  method: string;
  base: number;
  sum: number;
  from: string;
  to: string;
}

export interface Next {
  visit: string;
  due: Window;
  why: Message;
}

export interface Arg {
  number?: number;
  unit?: string;
  date?: string;
  code?: string;
  text?: string;
}

export interface Step {
  code: string;
  args?: { [name: string]: Arg };
  value: number;
  unit: string;
}
