// In which order this page takes the job's next readings.

export const keyOf = (reading) => `${reading.from}|${reading.to}|${reading.conditions ?? ''}`;

export const samePoints = (one, other) =>
  (one.from === other.from && one.to === other.to) || (one.from === other.to && one.to === other.from);

/** "X3" of "X3:8.ext", "X2" of "501@X2:12.int": the part or strip a point belongs to. */
export const partOf = (point) => point.slice(point.indexOf('@') + 1).split(':')[0];

export const touches = (reading, part) => partOf(reading.from) === part || partOf(reading.to) === part;

/**
 * First what is to be taken again, then what tells explanations apart, then the plan, from `start` on and round.
 * What was skipped comes last. `taken` and `skipped` hold keys, `skipped` in the order of skipping.
 */
export function inOrder(next, taken, skipped, start) {
  const open = next.filter((reading) => !taken.has(keyOf(reading)));
  const late = new Set(skipped);
  const now = open.filter((reading) => !late.has(keyOf(reading)));
  const plan = now.filter((reading) => reading.why === 'plan');
  const at = Math.max(
    0,
    plan.findIndex((reading) => keyOf(reading) === start),
  );
  return [
    ...now.filter((reading) => reading.why === 'again'),
    ...now.filter((reading) => reading.why === 'finding'),
    ...plan.slice(at),
    ...plan.slice(0, at),
    ...skipped.map((key) => open.find((reading) => keyOf(reading) === key)).filter(Boolean),
  ];
}
