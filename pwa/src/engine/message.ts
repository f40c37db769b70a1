// What page and engine thread say to each other.
export interface Ask {
  id: number;
  request: string;
}

export type Told = { id: number; reply: string } | { id: number; failure: string };
