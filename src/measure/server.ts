/** The page for the bench, on this machine only. */
import { randomBytes, timingSafeEqual } from 'node:crypto';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { Desk } from './desk.js';
import { requestSchema } from './requests.js';

/** What is served beside the state: three texts. */
export interface PageFiles {
  readonly html: string;
  readonly script: string;
  readonly style: string;
}

export interface BenchServer {
  readonly port: number;
  /** With its token; whoever has not got it gets nothing. */
  readonly address: string;
  /** From now on requests are answered. */
  readonly serve: (desk: Desk) => void;
  readonly close: () => Promise<void>;
}

const HOST = '127.0.0.1';
const LARGEST_BODY = 40_000;

const HEADERS = {
  'Cache-Control': 'no-store',
  'Content-Security-Policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src data:; media-src blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
} as const;

/**
 * Listens on 127.0.0.1, on a port that the system gives. Every request has to carry the token in its
 * path and this host in its header, so that neither another machine nor a foreign page that a name
 * service points here gets an answer; what a page of another origin sends is refused.
 *
 * @param complain takes faults of ours
 */
export async function benchServer(
  page: PageFiles,
  complain: (error: unknown) => void,
): Promise<BenchServer> {
  const token = randomBytes(24).toString('base64url');
  let desk: Desk | null = null;
  const server = createServer((request, response) => {
    const own = `${HOST}:${port()}`;
    handle({ request, response, desk, page, token, own }).catch((error: unknown) => {
      complain(error);
      if (!response.headersSent) send(response, 500, 'application/json', '{"kind":"fault"}');
      response.end();
    });
  });
  const port = () => {
    const address = server.address();
    return typeof address === 'object' && address !== null ? address.port : 0;
  };
  await new Promise<void>((done, fail) => {
    server.once('error', fail);
    server.listen(0, HOST, done);
  });
  return {
    port: port(),
    address: `http://${HOST}:${port()}/${token}/`,
    serve: (given) => {
      desk = given;
    },
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

interface Exchange {
  readonly request: IncomingMessage;
  readonly response: ServerResponse;
  readonly desk: Desk | null;
  readonly page: PageFiles;
  readonly token: string;
  /** The host that requests have to name. */
  readonly own: string;
}

async function handle(exchange: Exchange): Promise<void> {
  const { request, response, desk, page, token, own } = exchange;
  const { method, headers } = request;
  if (headers.host !== own) return send(response, 403, 'text/plain', 'forbidden');
  const { origin } = headers;
  const foreign = origin === undefined ? method !== 'GET' : origin !== `http://${own}`;
  if (foreign) return send(response, 403, 'text/plain', 'forbidden');
  const [, given = '', ...rest] = (request.url ?? '').split('?')[0]!.split('/');
  if (!same(given, token) || desk === null) return send(response, 404, 'text/plain', 'not found');
  const name = rest.join('/');
  if (method === 'GET') {
    if (name === '') return send(response, 200, 'text/html', page.html);
    if (name === 'page.js') return send(response, 200, 'text/javascript', page.script);
    if (name === 'style.css') return send(response, 200, 'text/css', page.style);
    if (name === 'state') return json(response, 200, await desk.view());
  }
  if (method === 'POST' && name === 'ask') return asked(exchange, desk);
  return send(response, 404, 'text/plain', 'not found');
}

async function asked({ request, response }: Exchange, desk: Desk): Promise<void> {
  if (request.headers['content-type'] !== 'application/json') {
    return send(response, 415, 'text/plain', 'JSON is needed');
  }
  const body = await bodyOf(request);
  if (body === null) return send(response, 413, 'text/plain', 'too long');
  const checked = requestSchema.safeParse(parsed(body));
  if (!checked.success) return send(response, 400, 'text/plain', 'no request of the page');
  return json(response, 200, await desk.ask(checked.data));
}

function parsed(body: string): unknown {
  try {
    return JSON.parse(body);
  } catch {
    return null;
  }
}

async function bodyOf(request: IncomingMessage): Promise<string | null> {
  const parts: Buffer[] = [];
  let length = 0;
  for await (const part of request) {
    const bytes = Buffer.from(part);
    length += bytes.length;
    if (length > LARGEST_BODY) return null;
    parts.push(bytes);
  }
  return Buffer.concat(parts).toString('utf8');
}

/** In the same time whatever is wrong with it. */
function same(given: string, token: string): boolean {
  const [a, b] = [Buffer.from(given), Buffer.from(token)];
  return a.length === b.length && timingSafeEqual(a, b);
}

function json(response: ServerResponse, status: number, value: unknown): void {
  send(response, status, 'application/json', JSON.stringify(value));
}

function send(response: ServerResponse, status: number, type: string, body: string): void {
  response.writeHead(status, { ...HEADERS, 'Content-Type': `${type}; charset=utf-8` });
  response.end(body);
}
