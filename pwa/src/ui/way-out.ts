// Leaving a screen for good: the way back does not lead into it again.
import { useLocation } from 'preact-iso';

export function useWayOut(): (path: string) => void {
  const { route } = useLocation();
  return (path) => route(path, true);
}
