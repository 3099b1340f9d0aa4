import { BlockList, isIP } from 'node:net';

/**
 * What the installer declared to stand in front: whose word about the device is heard, and where
 * people open the page. Without any, nothing forwarded is believed.
 *
 *   new Proxies(['127.0.0.1', '10.0.0.0/8'], 'https://shop.example', say)
 */
export class Proxies {
  /** Null: people open the address that is listened to. */
  readonly publicUrl: URL | null;
  readonly #declared = new BlockList();
  readonly #any: boolean;
  readonly #say: (line: string) => void;
  #told = false;

  /** Addresses and ranges, and the URL, as the flags checked them. */
  constructor(
    addresses: readonly string[] = [],
    publicUrl?: string,
    say: (line: string) => void = () => {},
  ) {
    this.#any = addresses.length > 0;
    this.#say = say;
    this.publicUrl = publicUrl === undefined ? null : new URL(publicUrl);
    for (const declared of addresses) {
      const [address = '', bits] = declared.split('/');
      if (bits === undefined) this.#declared.addAddress(address, familyOf(address));
      else this.#declared.addSubnet(address, Number(bits), familyOf(address));
    }
  }

  /** True where devices are told to come through a proxy. */
  get expected(): boolean {
    return this.#any || this.publicUrl !== null;
  }

  /**
   * Fastify asks it of each hop, from here outwards; what is no address is nobody's. An IPv4
   * address in IPv6 form (::ffff:…), as a socket for both families has it, is the same to the list.
   */
  readonly isDeclared = (address = ''): boolean =>
    isIP(address) !== 0 && this.#declared.check(address, familyOf(address));

  /** Tells the installer once; each request would be a way to fill the log. */
  tellUndeclared(address: string, mark: string): void {
    if (this.#told || this.isDeclared(address)) return;
    this.#told = true;
    this.#say(
      `a request came through a proxy at ${address}, which is not declared (${mark}): ` +
        `it counts as another device's; --trusted-proxy ${address} declares it`,
    );
  }
}

const familyOf = (address: string) => (isIP(address) === 6 ? 'ipv6' : 'ipv4');
