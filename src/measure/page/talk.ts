/** The way to the server: the state once a second, and one request at a time. */
import type { Reply, View } from '../messages.js';
import type { Request } from '../requests.js';
import { render } from './render.js';
import { session, take } from './session.js';

/** Requests so far: a view that was asked for before the last of them is out of date. */
let requests = 0;

export async function poll(): Promise<void> {
  const since = requests;
  try {
    const answer = await fetch('state', { cache: 'no-store' });
    const view: View = await answer.json();
    const news = !session.connected || view.version !== session.view?.version;
    session.connected = true;
    if (!news || session.asking || since !== requests) return;
    take(view);
    render();
  } catch {
    if (!session.connected) return;
    session.connected = false;
    render();
  }
}

/** A request without the mark of the files, which goes with each. */
type Asked<R> = R extends Request ? Omit<R, 'mark'> : never;

/** @returns `null` when nothing came back, or another request is on its way */
export async function ask(request: Asked<Request>): Promise<Reply | null> {
  if (session.asking) return null;
  session.asking = true;
  session.message = 'Writing …';
  requests += 1;
  render();
  try {
    const reply = await post({ ...request, mark: session.view?.mark ?? '' });
    session.connected = true;
    session.message = 'Nothing was written: the program answered with a fault of its own.';
    if (reply === null) return null;
    session.message = reply.kind === 'refused' ? reply.message : '';
    if (reply.kind !== 'question') take(reply.view);
    return reply;
  } catch {
    session.message = '';
    session.connected = false;
    return null;
  } finally {
    session.asking = false;
  }
}

async function post(request: Request): Promise<Reply | null> {
  const answer = await fetch('ask', {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(request),
  });
  if (!answer.ok) return null;
  const reply: Reply = await answer.json();
  return reply;
}
