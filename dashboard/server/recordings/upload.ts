import { extname } from 'node:path';
import { openRecording } from '../../../shared/recording/open.ts';
import { RecordingError, type RecordingReader } from '../../../shared/recording/reader.ts';
import { ArraySource } from '../../../shared/recording/source.ts';
import { ProblemError } from '../http/problems.ts';

export interface Uploaded {
  reader: RecordingReader;
  /** Of the file that was named first. */
  name: string;
  /** The JSON that came with it. */
  about: unknown;
}

const longestName = 120;

/**
 * A multipart form: `recording`, one file (.csv, .cff) or two of one name (.cfg and .dat), and
 * `about`, JSON.
 * @throws ProblemError saying what, where, and what would be right
 */
export async function readUpload(body: Buffer, contentType: string): Promise<Uploaded> {
  const form = await formOf(body, contentType);
  const files = form.getAll('recording').filter((part) => part instanceof File);
  const [first] = files;
  if (!first)
    throw new ProblemError(
      'bad-request',
      'no part "recording" with a file in it: a .csv, a .cff, or a .cfg with its .dat is needed',
    );
  if (files.length > 2)
    throw new ProblemError('bad-request', `${files.length} files; at most a .cfg with its .dat`);
  const bytes = await Promise.all(
    files.map(async (file) => new Uint8Array(await file.arrayBuffer())),
  );
  const name = plainName(first.name);
  const kinds = files.map((file) => extname(file.name).slice(1).toLowerCase());
  const source = (index: number) => new ArraySource(bytes[index] ?? new Uint8Array());
  const sibling = (extension: string) => {
    const at = kinds.indexOf(extension);
    return at === -1 ? null : source(at);
  };
  return { reader: opened({ name, main: source(0), sibling }), name, about: aboutOf(form) };
}

async function formOf(body: Buffer, contentType: string): Promise<FormData> {
  try {
    return await new Response(body, { headers: { 'content-type': contentType } }).formData();
  } catch {
    throw new ProblemError('bad-request', 'the form ends early, or is no multipart/form-data');
  }
}

function aboutOf(form: FormData): unknown {
  const text = form.get('about');
  if (typeof text !== 'string') throw new ProblemError('bad-request', 'no part "about" with JSON');
  try {
    return JSON.parse(text);
  } catch {
    throw new ProblemError('bad-request', 'the part "about" is no JSON');
  }
}

function opened(files: Parameters<typeof openRecording>[0]): RecordingReader {
  try {
    return openRecording(files);
  } catch (error) {
    throw asProblem(error);
  }
}

/** What is wrong in a recording says so itself, with the file's name. */
export function asProblem(error: unknown): unknown {
  return error instanceof RecordingError ? new ProblemError('bad-request', error.message) : error;
}

/** As it may be shown and stored: a browser gives a bare name, another client may give anything. */
function plainName(name: string): string {
  const bare = name
    .split(/[/\\]/)
    .at(-1)!
    .replaceAll(/\p{Cc}|\p{Cf}/gu, '');
  return bare.slice(-longestName);
}
