import { existsSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { OperatingError, UsageError } from '../shared/command/outcome.ts';
import { sensorId } from '../shared/protocol/topics.ts';
import type { Credentials } from './sensors.ts';

/** Where to connect, and by what name; a name and password in the URL count before all else. */
export interface BrokerAddress {
  url: string;
  credentials: (sensor: string) => Credentials;
}

/**
 * Works out the broker's address and the credentials of each sensor of a site: from the URL, from
 * STIFFLINE_USERNAME and STIFFLINE_PASSWORD, or from a file `{"username","password"}`, or a folder
 * of such named `SITE.SENSOR.json`, as the broker keeps them.
 * @throws UsageError for a URL that is none.
 */
export function brokerAddress(
  text: string,
  path: string | undefined,
  site: string,
  environment: { STIFFLINE_USERNAME?: string | undefined; STIFFLINE_PASSWORD?: string | undefined },
): BrokerAddress {
  if (!URL.canParse(text) || !/^mqtts?:$/.test(new URL(text).protocol))
    throw new UsageError(`--broker "${text}": mqtt://host:port is needed`);
  const url = new URL(text);
  const named = url.username
    ? { username: decodeURIComponent(url.username), password: decodeURIComponent(url.password) }
    : { username: environment.STIFFLINE_USERNAME, password: environment.STIFFLINE_PASSWORD };
  url.username = '';
  url.password = '';
  const { username, password } = named;
  if (username && password) return { url: url.href, credentials: () => ({ username, password }) };
  return { url: url.href, credentials: (sensor) => fromFile(path, sensorId(site, sensor)) };
}

function fromFile(path: string | undefined, id: string): Credentials {
  const folder = path !== undefined && existsSync(path) && statSync(path).isDirectory();
  const file = folder ? join(path, `${id}.json`) : path;
  if (file === undefined || !existsSync(file))
    throw new OperatingError(
      `no credentials for ${id}${file ? `, ${file} is not there` : ''}: put name and password ` +
        `into the broker's URL, or name a file by --credentials ` +
        `("stiffline broker --add-sensor ${id} > FILE" makes one)`,
    );
  let secret: Partial<Credentials> | null;
  try {
    secret = JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    throw new OperatingError(`${file}: ${error instanceof Error ? error.message : error}`);
  }
  if (typeof secret?.username !== 'string' || typeof secret.password !== 'string')
    throw new OperatingError(`${file}: "username" and "password" are needed`);
  return { username: secret.username, password: secret.password };
}
