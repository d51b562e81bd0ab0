/** Metres in a yard, exact (international yard and pound agreement, 1959). */
export const metresPerYard = 0.9144;

/** Lengths and speeds: the same factor turns m into yd and m/s into yd/s. */
export const yards = (metres: number): number => metres / metresPerYard;
export const metres = (inYards: number): number => inYards * metresPerYard;

/** Miles an hour into yards a second, exact: 1,760 yd to the mile. */
export const milesPerHour = (mph: number): number => (mph * 1760) / 3600;

export const radians = (degrees: number): number => (degrees * Math.PI) / 180;
export const degrees = (inRadians: number): number => (inRadians * 180) / Math.PI;
