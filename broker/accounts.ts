import { createHmac, randomBytes, scrypt, timingSafeEqual } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { type Static, Type } from 'typebox';
import { Compile } from 'typebox/compile';
import { OperatingError } from '../shared/command/outcome.ts';
import { parseSensorId } from '../shared/protocol/topics.ts';
import { limits } from './limits.ts';

/** Who may connect: the server, or one sensor under its own two topic words. */
export type Account = { role: 'server' } | { role: 'sensor'; site: string; sensor: string };
export interface Credentials {
  username: string;
  password: string;
}

export const serverAccount = 'server';
const fileName = 'accounts.json';
const secretsFolder = 'secrets';
/** Secrets are 192 random bits: the hash guards a stolen file, no guessing; 4 MB, about 10 ms. */
const cost = { N: 4096, r: 8, p: 1 };
const hash = promisify<string, Buffer, number, typeof cost, Buffer>(scrypt);

const File = Type.Object({
  version: Type.Literal(1),
  accounts: Type.Record(Type.String(), Type.Object({ salt: Type.String(), hash: Type.String() })),
});
type File = Static<typeof File>;
const fileCheck = Compile(File);

/** The accounts of one data folder: hashes in `accounts.json`, secrets of our own in `secrets/`. */
export class Accounts {
  readonly #folder: string;
  #file: File;
  /** Names that have shown their secret, with its keyed digest: a storm of reconnects is cheap. */
  readonly #seen = new Map<string, Buffer>();
  readonly #key = randomBytes(32);

  /** @throws OperatingError when the folder cannot be written or its file is not ours. */
  constructor(folder: string) {
    this.#folder = folder;
    makeFolder(folder);
    this.#file = this.#read();
  }

  /** Makes an account and gives its credentials: the only time that the secret is known. */
  async add(username: string): Promise<Credentials> {
    if (username !== serverAccount && !parseSensorId(username))
      throw new OperatingError(
        `sensor "${username}": site.sensor is needed, both of a-z, 0-9 and inner hyphens`,
      );
    if (Object.keys(this.#file.accounts).length >= limits.accounts)
      throw new OperatingError(
        `there are ${limits.accounts} accounts already, the most there may be`,
      );
    const password = randomBytes(24).toString('base64url');
    const salt = randomBytes(16);
    const digest = await hash(password, salt, 32, cost);
    // Another process may have added one meanwhile: its entry must not be written over.
    this.#file = this.#read();
    this.#file.accounts[username] = {
      salt: salt.toString('base64url'),
      hash: digest.toString('base64url'),
    };
    writeWhole(join(this.#folder, fileName), this.#file);
    this.#seen.delete(username);
    return { username, password };
  }

  /** Credentials of an account of this machine's own, made when there are none, kept 0600. */
  async own(username: string): Promise<Credentials> {
    const path = join(this.#folder, secretsFolder, `${username}.json`);
    if (existsSync(path) && Object.hasOwn(this.#file.accounts, username)) return readSecret(path);
    const credentials = await this.add(username);
    makeFolder(join(this.#folder, secretsFolder));
    writeWhole(path, credentials);
    return credentials;
  }

  /** The account behind a name and secret, or null. */
  async check(username: string, password: string): Promise<Account | null> {
    const digest = createHmac('sha256', this.#key).update(password).digest();
    const seen = this.#seen.get(username);
    if (seen && timingSafeEqual(seen, digest)) return account(username);
    if (!Object.hasOwn(this.#file.accounts, username)) this.#file = this.#read();
    const known = Object.hasOwn(this.#file.accounts, username)
      ? this.#file.accounts[username]
      : undefined;
    // An unknown name takes as long as a known one.
    const salt = Buffer.from(known?.salt ?? '', 'base64url');
    const given = await hash(password, salt, 32, cost);
    const wanted = Buffer.from(known?.hash ?? '', 'base64url');
    if (wanted.length !== given.length || !timingSafeEqual(given, wanted)) return null;
    this.#seen.set(username, digest);
    return account(username);
  }

  #read(): File {
    const path = join(this.#folder, fileName);
    if (!existsSync(path)) return { version: 1, accounts: {} };
    const file = readJson(path);
    if (!fileCheck.Check(file))
      throw new OperatingError(`${path}: not an accounts file of version 1`);
    return file;
  }
}

function account(username: string): Account | null {
  if (username === serverAccount) return { role: 'server' };
  const topic = parseSensorId(username);
  return topic && { role: 'sensor', ...topic };
}

function readSecret(path: string): Credentials {
  const secret = readJson(path) as Partial<Credentials> | null;
  if (typeof secret?.username !== 'string' || typeof secret.password !== 'string')
    throw new OperatingError(`${path}: "username" and "password" are needed`);
  return { username: secret.username, password: secret.password };
}

function readJson(path: string): unknown {
  try {
    return JSON.parse(readFileSync(path, 'utf8'));
  } catch (error) {
    throw new OperatingError(`${path}: ${error instanceof Error ? error.message : error}`);
  }
}

function makeFolder(path: string): void {
  try {
    mkdirSync(path, { recursive: true, mode: 0o700 });
  } catch (error) {
    throw new OperatingError(`${path}: ${error instanceof Error ? error.message : error}`);
  }
}

/** A reader sees the old file or the new one, never half of either. */
function writeWhole(path: string, value: unknown): void {
  const part = `${path}.${process.pid}.part`;
  writeFileSync(part, `${JSON.stringify(value, null, 2)}\n`, { mode: 0o600 });
  renameSync(part, path);
}
