// The server's nudges: a stream of events, each with the account's newest change number.

/** Calls heard with the head of every event in the text so far; gives what is left of it. */
export function takeEvents(text: string, heard: (head: number) => void): string {
  const events = text.split('\n\n');
  const rest = events.pop() ?? '';
  for (const event of events) {
    const data = /^data: (.*)$/m.exec(event)?.[1];
    if (data === undefined) continue;
    const head = /"head":(\d+)/.exec(data)?.[1];
    if (head !== undefined) heard(Number(head));
  }
  return rest;
}

/** Reads a stream of events until it ends. */
export async function follow(res: Response, heard: (head: number) => void): Promise<void> {
  const reader = res.body?.pipeThrough(new TextDecoderStream()).getReader();
  let text = '';
  for (;;) {
    const chunk = await reader?.read();
    if (!chunk || chunk.done) return;
    text = takeEvents(text + chunk.value, heard);
  }
}
