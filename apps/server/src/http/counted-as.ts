import { isIP } from 'node:net';

/**
 * What an address counts as where something is limited by address. Whoever has IPv6 has a whole /64 at least,
 * and may come from another address of it each time; an IPv4 address is itself, however it is written. Some
 * proxies name the port too, which is another one each time (RFC 7239, section 6).
 */
export function countedAs(address: string): string {
  const host = withoutPort(address);
  const plain = host.replace(/%.*$/, '');
  if (isIP(plain) !== 6) return host;
  const groups = groupsOf(plain);
  if (groups.slice(0, 6).join() === '0,0,0,0,0,65535')
    return groups
      .slice(6)
      .flatMap((group) => [group >> 8, group & 0xff])
      .join('.');
  const network = groups.slice(0, 4).map((group) => group.toString(16));
  return `${network.join(':')}::/64`;
}

function withoutPort(address: string): string {
  const bracketed = /^\[([^\]]+)\](:\d+)?$/.exec(address)?.[1];
  return bracketed ?? /^([\d.]+):\d+$/.exec(address)?.[1] ?? address;
}

/** The eight numbers of an IPv6 address. */
function groupsOf(address: string): number[] {
  // Written in one way, and without dots.
  const { hostname } = new URL(`http://[${address}]`);
  const [head = [], tail = []] = hostname
    .slice(1, -1)
    .split('::')
    .map((part) => part.split(':').filter(Boolean));
  const gap = Array<string>(8 - head.length - tail.length).fill('0');
  return [...head, ...gap, ...tail].map((group) => Number.parseInt(group, 16));
}
