// How our models were made: what is published, what is ours, how far each model lies from what it was
// held to, and what it must not be used for. The same text as the file in the repository.
import { useEffect } from 'preact/hooks';
import { modelCard, watchModel, type ModelCard } from '../state/model';
import { t } from '../state/words';
import { Frame } from '../ui/frame';
import '../style/model.css';

export function Model() {
  useEffect(watchModel, []);
  const card = modelCard();
  return (
    <Frame title={card?.title ?? t('nav.model')} back="/about" backWords={t('nav.about')} wide>
      {card && <Card card={card} />}
    </Frame>
  );
}

function Card({ card }: { card: ModelCard }) {
  const { kinds, anchors, lists } = card;
  return (
    <article class="model">
      <Paragraphs of={card.intro} />
      <button type="button" class="screen-only" onClick={() => print()}>
        {t('paper.print')}
      </button>
      <h2>{kinds.title}</h2>
      <Points of={kinds.counts} />
      <p>{kinds.words}</p>
      <Points of={kinds.models} />
      <h2>{anchors.title}</h2>
      <Paragraphs of={anchors.words} />
      {anchors.groups.map((g) => (
        <section key={g.title}>
          <h3>{g.title}</h3>
          <Paragraphs of={g.words} />
          <Anchors head={anchors.head} rows={g.rows} />
        </section>
      ))}
      {lists.map((l) => (
        <section key={l.title}>
          <h2>{l.title}</h2>
          <Points of={l.items} />
        </section>
      ))}
    </article>
  );
}

const Paragraphs = ({ of }: { of: readonly string[] }) => (
  <>
    {of.map((text) => (
      <p key={text}>
        <Marked text={text} />
      </p>
    ))}
  </>
);

const Points = ({ of }: { of: readonly string[] }) => (
  <ul>
    {of.map((text) => (
      <li key={text}>
        <Marked text={text} />
      </li>
    ))}
  </ul>
);

/** The card's two marks: **bold** and `code`. */
function Marked({ text }: { text: string }) {
  return (
    <>
      {text.split(/(\*\*[^*]+\*\*|`[^`]+`)/).map((part) => {
        if (part.startsWith('**')) return <b>{part.slice(2, -2)}</b>;
        return part.startsWith('`') ? <code>{part.slice(1, -1)}</code> : part;
      })}
    </>
  );
}

/** On a phone each row is a block that names its numbers; on paper and at the desk it is a table. */
function Anchors({ head, rows }: { head: readonly string[]; rows: readonly (readonly string[])[] }) {
  return (
    <table class="anchors">
      <thead>
        <tr>
          {head.map((h) => (
            <th key={h} scope="col">
              {h}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(([anchor = '', ...numbers], i) => (
          <tr key={i}>
            <th scope="row">{anchor}</th>
            {numbers.map((n, k) => (
              <td key={k} data-label={head[k + 1]}>
                {n}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
