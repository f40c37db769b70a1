// A long list opens as a short one and grows as the eye comes near its end.
import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { firstLines } from '../state/sight';

// As many at a time as a slow phone draws within a frame or two: a tap in between is heard.
const moreLines = 8;
const near = '1200px'; // a good flick ahead of what is seen

/** How many of the lines to draw now, and what to put below them, so that it grows. */
export function useGrowing(whole: number) {
  const most = useSignal(firstLines);
  const end =
    most.value < whole ? <End key={most.value} seen={() => (most.value += moreLines)} /> : null;
  return { most: most.value, end };
}

function End({ seen }: { seen: () => void }) {
  const mark = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const eye = new IntersectionObserver(
      (marks) => marks.some((m) => m.isIntersecting) && seen(),
      { rootMargin: near },
    );
    if (mark.current) eye.observe(mark.current);
    return () => eye.disconnect();
  }, []);
  return <div ref={mark} />;
}
