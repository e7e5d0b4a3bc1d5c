/** into += factor * values, element by element. */
export function addScaled(into: Float64Array, values: Float64Array, factor: number): void {
  for (let index = 0; index < into.length; index += 1) into[index] = into[index]! + factor * values[index]!;
}
