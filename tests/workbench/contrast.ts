/** The contrast of two colours as a page tells them, `rgb(r, g, b)`: WCAG 2.2, definitions of contrast ratio and of relative luminance. */
export function contrast(one: string, other: string): number {
  const [a, b] = [one, other].map((color) => {
    const [red, green, blue] = [...color.matchAll(/\d+/g)].slice(0, 3).map(([value]) => {
      const part = Number(value) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue! + 0.05;
  });
  return Math.max(a!, b!) / Math.min(a!, b!);
}
