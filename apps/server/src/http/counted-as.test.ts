import { describe, expect, it } from 'vitest';
import { countedAs } from './counted-as.ts';

describe('where something is limited by address', () => {
  it.each([
    ['192.0.2.7', '192.0.2.7'],
    ['::ffff:192.0.2.7', '192.0.2.7'],
    ['::FFFF:c000:207', '192.0.2.7'],
    ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2::/64'],
    ['2001:0DB8:0001:0002::9', '2001:db8:1:2::/64'],
    ['2001:db8::1', '2001:db8:0:0::/64'],
    ['2001:db8:1:3::9', '2001:db8:1:3::/64'],
    ['::1', '0:0:0:0::/64'],
    ['::', '0:0:0:0::/64'],
    ['fe80::1%eth0', 'fe80:0:0:0::/64'],
    ['1:2:3:4:5:6:7::', '1:2:3:4::/64'],
    ['192.0.2.7:49152', '192.0.2.7'],
    ['[2001:db8:1:2::9]:49152', '2001:db8:1:2::/64'],
    ['[2001:db8:1:2::9]', '2001:db8:1:2::/64'],
    ['unknown', 'unknown'],
    ['not:an:address', 'not:an:address'],
  ])('%s counts as %s', (address, counted) => {
    expect(countedAs(address)).toBe(counted);
  });
});
