// The pages of an open dig beside the counting: loaded while the first plant is being looked at, so
// that the program's start does not carry them.
import type { DigDraft, Page } from '../dig/draft';
import type { DigPart } from '../wire.gen';
import { Checks } from './check';
import { Finish, Nodes, SpotNote, Words } from './finish';
import { StandCount } from './stand';

interface Props {
  page: Exclude<Page, 'count'>;
  draft: DigDraft;
  part: DigPart | undefined;
}

export function DigPage({ page, draft, part }: Props) {
  switch (page) {
    case 'note':
      return <SpotNote draft={draft} />;
    case 'finish':
      return <Finish draft={draft} part={part} />;
    case 'nodes':
      return <Nodes draft={draft} />;
    case 'checks':
      return <Checks draft={draft} />;
    case 'stand':
      return <StandCount draft={draft} part={part} />;
    case 'words':
      return <Words draft={draft} />;
  }
}
