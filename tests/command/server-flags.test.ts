import { describe, expect, test } from 'vitest';
import { readFlags, usage, type Verb } from '../../shared/command/flags.ts';
import { UsageError } from '../../shared/command/outcome.ts';
import { publicUrl, trustedProxy } from '../../shared/command/server-flags.ts';

const flags = { 'trusted-proxy': trustedProxy, 'public-url': publicUrl } as const;
const verb: Verb<typeof flags> = { name: 'serve', says: 'serves', words: [], flags };
const read = (argv: string[], environment = {}) => readFlags(verb, argv, environment).flags;

describe('--trusted-proxy', () => {
  test('is said once, again and again, or as a list; in the environment too', () => {
    const trusted = (...of: Parameters<typeof read>) => read(...of)['trusted-proxy'];
    expect(trusted([])).toEqual([]);
    expect(trusted(['--trusted-proxy', '127.0.0.1'])).toEqual(['127.0.0.1']);
    const two = ['--trusted-proxy', '127.0.0.1, ::1', '--trusted-proxy=10.0.0.0/8'];
    expect(trusted(two)).toEqual(['127.0.0.1', '::1', '10.0.0.0/8']);
    const environment = { STIFFLINE_TRUSTED_PROXY: '10.0.0.0/8,2001:db8::/32' };
    expect(trusted([], environment)).toEqual(['10.0.0.0/8', '2001:db8::/32']);
    expect(trusted(['--trusted-proxy', '::1'], environment)).toEqual(['::1']);
    expect(trusted([], { STIFFLINE_TRUSTED_PROXY: '' })).toEqual([]);
  });

  test.each([
    ...['localhost', '*', '', '10.0.0', '10.0.0.256', '127.0.0.1:80', 'http://10.0.0.1', '::g'],
    ...['10.0.0.0/0', '10.0.0.0/33', '10.0.0.0/', '10.0.0.0/8/8', '10.0.0.0/255.0.0.0'],
    ...['::/0', '::1/129', '10.0.0.0/-1', '10.0.0.0/1e1', '10.0.0.0/8.5', 'fe80::1%eth0'],
    ...['127.0.0.1,,::1', '127.0.0.1;::1', 'true'],
  ])('"%s" is refused, with what would be right', (text) => {
    const one = () => read([`--trusted-proxy=${text}`]);
    expect(one).toThrow(UsageError);
    expect(one).toThrow(/^--trusted-proxy ".*": an address \(.*\) or a range \(.*\) is needed$/);
  });

  test('names the environment where that said it', () => {
    const wrong = () => read([], { STIFFLINE_TRUSTED_PROXY: '127.0.0.1,shop' });
    expect(wrong).toThrow('STIFFLINE_TRUSTED_PROXY "shop"');
  });
});

describe('--public-url', () => {
  test.each(['https://shop.example', 'http://shop.example:8080/', 'https://[2001:db8::1]/'])(
    '%s is one',
    (text) => expect(read(['--public-url', text])['public-url']).toBe(text),
  );

  test.each([
    ...['shop.example', 'ftp://shop.example', 'https://', 'https://lea:x@shop.example', ''],
    ...['https://shop.example/weld', 'https://shop.example/?a=1', 'https://shop.example/#a'],
  ])('"%s" is refused', (text) => {
    expect(() => read([`--public-url=${text}`])).toThrow(UsageError);
    expect(() => read([`--public-url=${text}`])).toThrow(/^--public-url ".*": an http/);
  });

  test('stands in the help, as its fellow does', () => {
    expect(usage(verb)).toContain('--public-url TEXT');
    expect(usage(verb)).toContain('--trusted-proxy TEXT');
  });
});
