/**
 * Sum of squares that is left of evenly spaced values when a slow course and one swing are taken away by least squares.
 *
 * The slow course is a polynomial; the swing a cosine and a sine of the given rate about the middle. There the cosine and the even
 * shapes of the course are even, the sine and the odd ones odd, so the two can be fitted apart.
 */
export class SwingFit {
  private readonly course: readonly Float64Array[];
  /** The values without their course. */
  private readonly left: Float64Array;
  /** What is left without any swing. */
  readonly still: number;

  /**
   * @param values      n of them, more than `degree` + 3
   * @param stepSeconds from one to the next
   * @param degree      of the slow course
   */
  constructor(
    values: Float64Array,
    private readonly stepSeconds: number,
    degree: number,
  ) {
    this.course = orthonormal(values.length, degree);
    this.left = without(this.course, values);
    this.still = dot(this.left, this.left);
  }

  /** @returns the sum of squares left, 0 to `still` */
  leftWith(perSecond: number): number {
    const { left, course } = this;
    const turn = 2 * Math.PI * perSecond * this.stepSeconds;
    const cos = new Float64Array(left.length);
    const sin = new Float64Array(left.length);
    fillTurns(cos, sin, turn);
    const explained = shareOf(left, course, cos) + shareOf(left, course, sin);
    return Math.max(0, this.still - explained);
  }
}

/** A swing of which the course leaves less than this share is none. */
const LEAST_POWER = 1e-3;

/** How much of values that are free of the course a shape explains, once it is freed of the course as well. */
function shareOf(left: Float64Array, course: readonly Float64Array[], shape: Float64Array): number {
  let power = dot(shape, shape);
  const all = power;
  for (const one of course) power -= dot(shape, one) ** 2;
  return power <= LEAST_POWER * all ? 0 : dot(left, shape) ** 2 / power;
}

/** Cosine and sine of an angle that grows from value to value, 0 in the middle; by repeated rotation. */
function fillTurns(cos: Float64Array, sin: Float64Array, turn: number): void {
  const first = (-turn * (cos.length - 1)) / 2;
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  let re = Math.cos(first);
  let im = Math.sin(first);
  for (let n = 0; n < cos.length; n++) {
    cos[n] = re;
    sin[n] = im;
    const next = re * c - im * s;
    im = re * s + im * c;
    re = next;
  }
}

/** Polynomials up to a degree, made orthonormal by Gram and Schmidt. */
function orthonormal(length: number, degree: number): readonly Float64Array[] {
  const shapes: Float64Array[] = [];
  for (let power = 0; power <= degree; power++) {
    const raw = Float64Array.from({ length }, (_, n) => ((2 * n) / Math.max(1, length - 1) - 1) ** power);
    const shape = without(shapes, raw);
    const size = Math.sqrt(dot(shape, shape));
    if (size > 1e-9) shapes.push(shape.map((value) => value / size));
  }
  return shapes;
}

function without(shapes: readonly Float64Array[], values: Float64Array): Float64Array {
  const rest = Float64Array.from(values);
  for (const shape of shapes) {
    const share = dot(rest, shape);
    for (let n = 0; n < rest.length; n++) rest[n] = (rest[n] as number) - share * (shape[n] as number);
  }
  return rest;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < a.length; n++) sum += (a[n] as number) * (b[n] as number);
  return sum;
}
