// An outline from a file or from pasted text: which of its shapes is this field?
import { useSignal } from '@preact/signals';
import { readFile, refusedWords } from '../state/outline-file';
import { featuresOf, looksSwapped, slim, type Feature, type Found } from '../outline/read';
import { ringsOf, swapped, type Geometry } from '../outline/shape';
import { changeOutline, homeOf, type OutlineDraft } from '../state/outline';
import { t } from '../state/words';
import { Choice, TextField } from '../ui/form';

export function ByFile({ draft }: { draft: OutlineDraft }) {
  const found = useSignal<Found | undefined>(undefined);
  const which = useSignal(0);
  const asked = useSignal<Geometry | undefined>(undefined);
  const choose = (feature: Feature | undefined) => {
    asked.value = undefined;
    if (!feature) return;
    if (looksSwapped(feature.geometry, homeOf(draft.field))) asked.value = feature.geometry;
    else changeOutline(draft, { chosen: slim(feature.geometry) });
  };
  const take = (read: Found) => {
    found.value = read;
    which.value = 0;
    choose(read.features[0]);
  };
  const answer = (geometry: Geometry) => {
    asked.value = undefined;
    changeOutline(draft, { chosen: slim(geometry) });
  };
  return (
    <>
      <p>{t('outline.fileHow')}</p>
      <FileInput onFile={(file) => void readFile(file).then(take)} />
      <TextField
        label={t('fieldForm.outline')}
        value=""
        hint={t('fieldForm.outlineHint')}
        onChange={(text) => text.trim() !== '' && take(featuresOf(text))}
      />
      {found.value && <Refusals found={found.value} />}
      {found.value && found.value.features.length > 1 && (
        <Choice
          label={t('outline.which')}
          value={String(which.value)}
          options={found.value.features.map((f, i) => [String(i), featureName(f, i)] as const)}
          onChange={(v) => {
            which.value = Number(v);
            choose(found.value?.features[which.value]);
          }}
        />
      )}
      {asked.value && <SwapQuestion geometry={asked.value} answer={answer} />}
    </>
  );
}

/** Ours instead of the browser's own, which speaks the browser's language. */
export function FileInput({ onFile }: { onFile: (file: File) => void }) {
  const name = useSignal('');
  return (
    <div class="photos">
      <label class="button">
        {t('outline.file')}
        <input
          class="hidden"
          type="file"
          accept=".geojson,.json,.kml,.zip,.shp,application/geo+json"
          onChange={(e) => {
            const file = e.currentTarget.files?.[0];
            name.value = file?.name ?? '';
            if (file) onFile(file);
          }}
        />
      </label>
      {name.value && <p>{name.value}</p>}
    </div>
  );
}

export const featureName = (f: Feature, i: number): string =>
  f.name === '' ? t('outline.feature', { n: i + 1 }) : f.name;

/** What could not be read, and where. */
export function Refusals({ found }: { found: Found }) {
  return (
    <>
      {found.refused.map((r, i) => (
        <p key={i} class="error" role="alert">
          {refusedWords(r)}
        </p>
      ))}
      {found.others > 0 && <p class="aside">{t('outline.others', { n: found.others })}</p>}
    </>
  );
}

interface SwapProps {
  geometry: Geometry;
  answer: (geometry: Geometry) => void;
}

function SwapQuestion({ geometry, answer }: SwapProps) {
  const [first] = ringsOf(geometry).flat();
  const right = ringsOf(geometry)
    .flat()
    .every(([, latitude]) => Math.abs(latitude) <= 90);
  return (
    <div class="notice" role="alert">
      <p>{t('outline.swapped', { a: first?.[0] ?? '', b: first?.[1] ?? '' })}</p>
      <div class="row">
        <button type="button" class="loud" onClick={() => answer(swapped(geometry))}>
          {t('outline.swap')}
        </button>
        {right && (
          <button type="button" onClick={() => answer(geometry)}>
            {t('outline.noSwap')}
          </button>
        )}
      </div>
    </div>
  );
}
