/** 32 bits of a linear congruential generator (constants of Numerical Recipes, from memory): the same draws in every run. */
export const seededRandom = (seed: number): (() => number) => {
  let state = seed >>> 0
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
}
