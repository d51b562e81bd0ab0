import { ballX, fieldOf, halfWidth } from '@stemline/football/field';
import { describe, expect, it } from 'vitest';

/** Values are typed in as a rule book prints them, in feet and inches, and worked out here apart from the code. */
const yards = (feet: number, inches = 0): number => feet / 3 + inches / 36;

describe('the field of three rule codes', () => {
  it('is 160 ft wide: NFHS 1-1-2, NCAA 1-2-1 (second hand), NFL Rule 1-1', () => {
    for (const code of ['highSchool', 'college', 'professional'] as const) {
      expect(fieldOf(code).width.value).toBeCloseTo(53.3333, 4);
      expect(fieldOf(code).length.value).toBe(100);
      expect(fieldOf(code).endZone.value).toBe(10);
    }
    expect(halfWidth).toBeCloseTo(26.6667, 4);
  });

  it.each([
    ['highSchool', yards(53, 4), 17.7778, 8.8889, 'NFHS 1-2: 53 ft 4 in (second hand)'],
    ['college', yards(60), 20, 6.6667, 'NCAA 1-2-1: 60 ft (second hand)'],
    [
      'professional',
      yards(70, 9),
      23.5833,
      3.0833,
      'NFL Rule 1 and operations.nfl.com glossary: 70 ft 9 in',
    ],
  ] as const)('%s hash marks', (code, fromSideline, printed, fromMiddle, source) => {
    const field = fieldOf(code);
    expect(fromSideline, source).toBeCloseTo(printed, 4);
    expect(field.hashFromSideline.value, source).toBeCloseTo(fromSideline, 10);
    expect(field.hash, source).toBeCloseTo(fromMiddle, 4);
    expect(ballX({ code, spot: 'right' }), source).toBeCloseTo(fromMiddle, 4);
  });

  it.each([
    ['highSchool', yards(53, 4)],
    ['college', yards(40)],
    ['professional', yards(18, 6)],
  ] as const)('%s: what lies between the hashes (second hand)', (code, between) => {
    expect(2 * fieldOf(code).hash).toBeCloseTo(between, 10);
  });

  it('high-school hashes cut the field in exact thirds (second hand)', () => {
    const { hash, hashFromSideline } = fieldOf('highSchool');
    expect(2 * hash).toBeCloseTo(hashFromSideline.value, 10);
  });

  it('professional hashes lie in line with the goal posts, 18 ft 6 in: NFL Rule 1', () => {
    const { hash, goalPosts } = fieldOf('professional');
    expect(2 * hash).toBeCloseTo(goalPosts.value, 10);
  });

  it('is not misled by the page that gives 40 ft from the sideline: that is the distance between', () => {
    expect(fieldOf('college').hashFromSideline.value).not.toBeCloseTo(yards(40), 1);
  });

  it('goal posts: NFHS 23 ft 4 in (second hand), NCAA 18 ft 6 in (second hand), NFL 18 ft 6 in', () => {
    expect(fieldOf('highSchool').goalPosts.value).toBeCloseTo(yards(23, 4), 10);
    expect(fieldOf('college').goalPosts.value).toBeCloseTo(yards(18, 6), 10);
    expect(fieldOf('professional').goalPosts.value).toBeCloseTo(yards(18, 6), 10);
  });

  it('numbers: tops 9 yd from the sideline and 2 yd high (NCAA 1-2-1-i; NFHS second hand), bottoms 12 yd (NFL, second hand)', () => {
    expect(fieldOf('college').numbers).toMatchObject({ top: 9, bottom: 7 });
    expect(fieldOf('highSchool').numbers).toMatchObject({ top: 9, bottom: 7 });
    expect(fieldOf('professional').numbers).toMatchObject({ top: 14, bottom: 12 });
  });
});
