/** Study folders on disk, and requests to the page's server. */
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { type IncomingHttpHeaders, request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Reply, View } from '../../src/measure/messages.js';
import type { Request } from '../../src/measure/requests.js';
import { SHEET, STUDY } from './evening.js';

export function studyFolder(runs: string | null = SHEET, study: unknown = STUDY): string {
  const folder = mkdtempSync(join(tmpdir(), 'meterpair-bench-'));
  writeFileSync(join(folder, 'study.json'), JSON.stringify(study));
  if (runs !== null) writeFileSync(join(folder, 'runs.csv'), runs);
  return folder;
}

export const runsOf = (folder: string): string => readFileSync(join(folder, 'runs.csv'), 'utf8');

export interface Answered {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

/** One request with exactly these headers; the host is set by hand, as no browser lets a page do. */
export function http(
  address: string,
  options: {
    readonly method?: string;
    readonly path?: string;
    readonly headers?: Readonly<Record<string, string>>;
    readonly body?: string;
  } = {},
): Promise<Answered> {
  const url = new URL(address);
  return new Promise((done, fail) => {
    const asked = request(
      {
        host: url.hostname,
        port: url.port,
        method: options.method ?? 'GET',
        path: options.path ?? url.pathname,
        headers: { Host: url.host, ...options.headers },
      },
      (answer) => {
        const parts: Buffer[] = [];
        answer.on('data', (part: Buffer) => parts.push(part));
        answer.on('end', () =>
          done({
            status: answer.statusCode ?? 0,
            headers: answer.headers,
            body: Buffer.concat(parts).toString('utf8'),
          }),
        );
        answer.on('error', fail);
      },
    );
    asked.on('error', fail);
    asked.end(options.body);
  });
}

export async function viewAt(address: string): Promise<View> {
  const { body } = await http(`${address}state`);
  const view: View = JSON.parse(body);
  return view;
}

export async function askAt(address: string, body: Request): Promise<Reply> {
  const { origin } = new URL(address);
  const answer = await http(`${address}ask`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', Origin: origin },
    body: JSON.stringify(body),
  });
  if (answer.status !== 200) throw new Error(`${answer.status} ${answer.body}`);
  const reply: Reply = JSON.parse(answer.body);
  return reply;
}
