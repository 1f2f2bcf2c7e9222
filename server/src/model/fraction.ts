/**
 * Exact fractions. Those of everyday lines are held as two small whole numbers, whose sums and products are exact; one that outgrows them is
 * counted by `fraction.js`, which knows no limit and takes many times as long. The methods are those of that library, as far as they are used.
 */
import Large from 'fraction.js';

/** Below it, a product is below 2^52 and a sum of two products below 2^53: no digit is lost. */
const SMALL = 2 ** 26;

export class Fraction {
  /** In lowest terms, the sign with the numerator. They mean nothing where `large` is there. */
  private readonly numerator: number;
  private readonly denominator: number;
  private readonly large: Large | null;

  /** `numerator / denominator`. A number with a point, or a text (`3/2`), stands alone; throws where it is no number, and for a denominator of 0. */
  constructor(numerator: number | string | Large, denominator = 1) {
    if (Number.isSafeInteger(numerator) && Number.isSafeInteger(denominator) && denominator > 0) {
      const divisor = commonDivisor(numerator as number, denominator);
      const [above, below] = [(numerator as number) / divisor, denominator / divisor];
      const isSmall = above < SMALL && above > -SMALL && below < SMALL;
      // Zero has one sign.
      this.numerator = isSmall ? above + 0 : 0;
      this.denominator = isSmall ? below : 1;
      this.large = isSmall ? null : new Large(above, below);
      return;
    }
    const large = typeof numerator === 'number' && denominator !== 1 ? new Large(numerator, denominator) : new Large(numerator);
    const isSmall = large.n < SMALL && large.d < SMALL;
    this.numerator = isSmall ? Number(large.s * large.n) : 0;
    this.denominator = isSmall ? Number(large.d) : 1;
    this.large = isSmall ? null : large;
  }

  get isWhole(): boolean {
    return this.large === null ? this.denominator === 1 : this.large.d === 1n;
  }

  /** The numerator without its sign. */
  get n(): bigint {
    return this.large === null ? BigInt(Math.abs(this.numerator)) : this.large.n;
  }

  get d(): bigint {
    return this.large === null ? BigInt(this.denominator) : this.large.d;
  }

  add(other: Fraction | number): Fraction {
    const by = fractionOf(other);
    if (this.large !== null || by.large !== null) return new Fraction(largeOf(this).add(largeOf(by)));
    if (this.denominator === by.denominator) return everyday(this.numerator + by.numerator, this.denominator);
    return everyday(this.numerator * by.denominator + by.numerator * this.denominator, this.denominator * by.denominator);
  }

  sub(other: Fraction | number): Fraction {
    const by = fractionOf(other);
    if (this.large !== null || by.large !== null) return new Fraction(largeOf(this).sub(largeOf(by)));
    if (this.denominator === by.denominator) return everyday(this.numerator - by.numerator, this.denominator);
    return everyday(this.numerator * by.denominator - by.numerator * this.denominator, this.denominator * by.denominator);
  }

  mul(other: Fraction | number): Fraction {
    const by = fractionOf(other);
    if (this.large !== null || by.large !== null) return new Fraction(largeOf(this).mul(largeOf(by)));
    return everyday(this.numerator * by.numerator, this.denominator * by.denominator);
  }

  /** Throws for 0. */
  div(other: Fraction | number): Fraction {
    const by = fractionOf(other);
    if (this.large !== null || by.large !== null || by.numerator === 0) return new Fraction(largeOf(this).div(largeOf(by)));
    const sign = by.numerator < 0 ? -1 : 1;
    return everyday(sign * this.numerator * by.denominator, sign * by.numerator * this.denominator);
  }

  pow(exponent: number): Fraction {
    return new Fraction(largeOf(this).pow(exponent));
  }

  neg(): Fraction {
    return this.large === null ? new Fraction(-this.numerator, this.denominator) : new Fraction(this.large.neg());
  }

  abs(): Fraction {
    return this.compare(0) < 0 ? this.neg() : this;
  }

  /** The whole number that is not above. */
  floor(): Fraction {
    if (this.large !== null) return new Fraction(this.large.floor());
    const rest = this.numerator % this.denominator;
    return everyday((this.numerator - (rest < 0 ? rest + this.denominator : rest)) / this.denominator, 1);
  }

  /** The whole number that is not below. */
  ceil(): Fraction {
    return this.neg().floor().neg();
  }

  /** The nearest whole number; of two as near, the one farther from 0. */
  round(): Fraction {
    return new Fraction(largeOf(this).round());
  }

  equals(other: Fraction | number): boolean {
    const by = fractionOf(other);
    if (this.large !== null || by.large !== null) return largeOf(this).compare(largeOf(by)) === 0;
    // Both are in lowest terms.
    return this.numerator === by.numerator && this.denominator === by.denominator;
  }

  /** -1, 0 or 1. */
  compare(other: Fraction | number): number {
    const by = fractionOf(other);
    if (this.large !== null || by.large !== null) return largeOf(this).compare(largeOf(by));
    return Math.sign(this.numerator * by.denominator - by.numerator * this.denominator);
  }

  /** The nearest floating-point number, for what is shown or sounds. */
  valueOf(): number {
    return this.large === null ? this.numerator / this.denominator : this.large.valueOf();
  }

  /** `3/2`, and where a whole part is wanted `1 1/2`. */
  toFraction(showsWhole = false): string {
    if (this.large !== null || showsWhole) return largeOf(this).toFraction(showsWhole);
    return this.denominator === 1 ? String(this.numerator) : `${this.numerator}/${this.denominator}`;
  }

  toString(): string {
    return largeOf(this).toString();
  }
}

/**
 * The simplest fraction that is the number, as near as floating point tells: a fraction's own `valueOf` comes back as that fraction while its
 * terms are below 2^20. By continued fractions, where the library counts denominators up one by one. The number lies between -2^26 and 2^26.
 */
export function fractionNear(value: number): Fraction {
  const nearEnough = Math.max(1, Math.abs(value)) * 2 ** -50;
  let [above, below, aboveBefore, belowBefore] = [1, 0, 0, 1];
  let rest = value;
  for (;;) {
    const whole = Math.floor(rest);
    const [nextAbove, nextBelow] = [whole * above + aboveBefore, whole * below + belowBefore];
    if (Math.abs(nextAbove) >= SMALL || nextBelow >= SMALL) return new Fraction(above, below);
    [above, below, aboveBefore, belowBefore] = [nextAbove, nextBelow, above, below];
    if (Math.abs(above / below - value) <= nearEnough) return new Fraction(above, below);
    rest = 1 / (rest - whole);
  }
}

/** The times and lengths of everyday lines: by their denominators, and for each by their numerators. The same one each time, so that a phrase of many notes holds few. */
const EVERYDAY: readonly Fraction[][] = Array.from({ length: 13 }, () => []);
const LARGEST_EVERYDAY = 1024;

/** A fraction of safe whole numbers, the denominator above 0. */
function everyday(numerator: number, denominator: number): Fraction {
  const divisor = denominator === 1 ? 1 : commonDivisor(numerator, denominator);
  const [above, below] = [numerator / divisor, denominator / divisor];
  if (above < 0 || above > LARGEST_EVERYDAY || below >= EVERYDAY.length) return new Fraction(above, below);
  // Filled from 0 on, so that no list has gaps.
  const known = EVERYDAY[below]!;
  for (let next = known.length; next <= above; next += 1) known.push(new Fraction(next, below));
  return known[above]!;
}

function fractionOf(value: Fraction | number): Fraction {
  if (typeof value !== 'number') return value;
  return Number.isSafeInteger(value) ? everyday(value, 1) : new Fraction(value);
}

/** The library's fraction of one of ours. */
function largeOf(fraction: Fraction): Large {
  return fraction['large'] ?? new Large(fraction['numerator'], fraction['denominator']);
}

/** The greatest whole number that divides both, above 0. */
function commonDivisor(a: number, b: number): number {
  let x = Math.abs(a);
  let y = b;
  while (y !== 0) {
    const rest = x % y;
    x = y;
    y = rest;
  }
  return x;
}
