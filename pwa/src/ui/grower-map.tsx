// The field among the other fields of its grower, as small shapes.
import { outlineOf, ringsOf, type Geometry } from '../outline/shape';
import { all, type FieldRow } from '../state/records';
import { t } from '../state/words';
import { FieldMap, viewOf } from './map';

export function GrowerMap({ row }: { row: FieldRow }) {
  const own = outlineOf(row.field.body.outline);
  const others = all('field')
    .filter((f) => f.body.grower === row.field.body.grower && f.id !== row.field.id)
    .flatMap((f): Geometry[] => {
      const outline = f.body.archived ? undefined : outlineOf(f.body.outline);
      return outline ? [outline] : [];
    });
  if (!own) return null;
  const [alone, among] = [ringsOf(own).flat(), [own, ...others].flatMap(ringsOf).flat()];
  const field = row.field.body.name;
  return (
    <div class="maps">
      <FieldMap view={viewOf(alone)} label={t('map.field', { field })} field={own} />
      {others.length > 0 && (
        <FieldMap
          view={viewOf(among)}
          label={t('map.among', { field, n: others.length })}
          field={own}
          others={others}
        />
      )}
    </div>
  );
}
