// A folded reason. What is under it is drawn when it is first opened: a field has hundreds of
// figures, and most of them are never asked for.
import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';

interface Props {
  title: string;
  children: ComponentChildren;
}

export function Fold({ title, children }: Props) {
  const opened = useSignal(false);
  const show = () => (opened.value = true);
  return (
    <details class="reason" onToggle={(e) => e.currentTarget.open && show()}>
      <summary onClick={show}>{title}</summary>
      {opened.value && children}
    </details>
  );
}
