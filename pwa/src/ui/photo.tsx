// Photos: small ones in a row, a large one on a tap, and the key that takes one.
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { spotPhotos, type DigDraft } from '../dig/draft';
import {
  letPhotoGo,
  photosOf,
  photosRefused,
  pictureOf,
  takeOut,
  takePhoto,
  type Trouble,
} from '../state/photo';
import { showMoment, t, tn, type Key } from '../state/words';
import type { Picture } from '../db/photo';
import type { Photo } from '../wire.gen';

const small = (p: Photo): string => (p.thumb ? `data:image/jpeg;base64,${p.thumb}` : '');

/** So many photos of a spot tell what there is to tell; more only fill the phone (ours). */
const mostOfSpot = 3;

const troubleWords: Record<Exclude<Trouble, 'none'>, Key> = {
  space: 'photo.space',
  unreadable: 'photo.unreadable',
  dark: 'photo.dark',
  blurred: 'photo.blurred',
};

export function TakePhoto({ draft }: { draft: DigDraft }) {
  const trouble = useSignal<Trouble>('none');
  const busy = useSignal(false);
  const photos = spotPhotos(draft);
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (!file) return;
    busy.value = true;
    trouble.value = await takePhoto(draft.field, file);
    busy.value = false;
    input.value = '';
  };
  return (
    <div class="photos">
      {photos.length < mostOfSpot ? (
        <>
          <label class="button">
            {t('photo.take')}
            <input
              class="hidden"
              type="file"
              accept="image/*"
              capture="environment"
              disabled={busy.value}
              onChange={(e) => void take(e.currentTarget)}
            />
          </label>
          <p>{t('photo.scale')}</p>
        </>
      ) : (
        <p>{t('photo.enough')}</p>
      )}
      {photos.map((p) => (
        <Taken key={p.sha256} field={draft.field} photo={p} />
      ))}
      {trouble.value !== 'none' && (
        <p class="error" role="alert">
          {t(troubleWords[trouble.value])}
        </p>
      )}
    </div>
  );
}

/** One just taken: small, and what lets it go, asked once more since nothing brings it back. */
function Taken({ field, photo }: { field: string; photo: Photo }) {
  const asked = useSignal(false);
  return (
    <>
      <img class="small-photo" src={small(photo)} alt={t('photo.alt')} />
      <button
        type="button"
        onClick={() => {
          if (asked.value) void takeOut(field, photo.sha256);
          asked.value = !asked.value;
        }}
      >
        {t(asked.value ? 'photo.letGoNow' : 'photo.letGo')}
      </button>
    </>
  );
}

export function Photos({ dig }: { dig: string }) {
  const list = photosOf(dig);
  const chosen = useSignal<Photo | undefined>(undefined);
  if (list.length === 0) return null;
  return (
    <section>
      <h2>{tn('photo.count', list.length)}</h2>
      <div class="photos">
        {list.map(({ id, body }) => (
          <button key={id} type="button" onClick={() => (chosen.value = body)}>
            <img class="small-photo" src={small(body)} alt={t('photo.alt')} />
            {!body.stored && <span class="quiet">{t(standOf(body.sha256))}</span>}
          </button>
        ))}
      </div>
      {chosen.value && <Large key={chosen.value.sha256} photo={chosen.value} />}
    </section>
  );
}

const standOf = (sha256: string) =>
  photosRefused.value.some((p) => p.sha256 === sha256) ? 'photo.refusedShort' : 'photo.notStored';

/** Photos that the farm server will not take: why, and the two things that can be done. */
export function RefusedPhotos() {
  const list = photosRefused.value;
  if (list.length === 0) return null;
  return (
    <section class="refused-photos">
      <h2>{tn('photo.refused', list.length)}</h2>
      <p>{t('photo.refusedWhat')}</p>
      {list.map((picture) => (
        <Refused key={picture.sha256} picture={picture} />
      ))}
    </section>
  );
}

function Refused({ picture }: { picture: Picture }) {
  const address = useSignal('');
  useEffect(() => {
    address.value = URL.createObjectURL(new Blob([picture.bytes], { type: 'image/jpeg' }));
    return () => URL.revokeObjectURL(address.value);
  }, [picture.sha256]);
  const name = `${picture.takenAt.slice(0, 10)} ${picture.sha256.slice(0, 8)}.jpg`;
  return (
    <div class="answer">
      {address.value && <img class="small-photo" src={address.value} alt={t('photo.alt')} />}
      <p>
        {t('photo.refusedWhy', {
          when: showMoment(picture.takenAt, Date.now()),
          why: picture.refused,
        })}
      </p>
      <div class="row">
        <a class="button" href={address.value} download={name}>
          {t('photo.copy')}
        </a>
        <button type="button" onClick={() => void letPhotoGo(picture.sha256)}>
          {t('photo.letGo')}
        </button>
      </div>
    </div>
  );
}

function Large({ photo }: { photo: Photo }) {
  const address = useSignal<string | undefined>(undefined);
  useEffect(() => {
    void pictureOf(photo).then((found) => (address.value = found ?? ''));
    return () => address.value && URL.revokeObjectURL(address.value);
  }, [photo.sha256]);
  if (address.value === undefined) return null;
  if (address.value === '') return <p>{t('photo.away')}</p>;
  return <img class="large-photo" src={address.value} alt={t('photo.alt')} />;
}
