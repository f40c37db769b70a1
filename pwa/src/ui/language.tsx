// English and French, changed at once, on every first screen.
import { language, type Language } from '../state/prefs';
import { t } from '../state/words';
import { Picks } from './form';

const names = [
  ['en', 'English'],
  ['fr', 'Français'],
] as const;

export function LanguagePicks() {
  return (
    <Picks
      label={t('settings.language')}
      value={language.value}
      options={names}
      onChange={(key) => (language.value = key as Language)}
    />
  );
}
