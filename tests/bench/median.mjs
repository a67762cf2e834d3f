// The middle of numbers; of an even count the higher of the two.
export const median = (all) => [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)];
