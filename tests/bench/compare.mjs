// Do the project and its peer find the same? Times in µs, amplitudes and prominences in % FSH.

import { basename } from 'node:path';

const tolerance = 1e-9;

/** The peer's own form; of the project's answer, the same form. */
function fromWorkbench(answer) {
  const gates = new Map();
  for (const { file, trace, gate, ...reading } of answer.readings) {
    const key = `${basename(file)}#${trace}`;
    gates.set(key, { ...gates.get(key), [gate]: reading });
  }
  return answer.captures.map(({ file, trace, echoes }) => ({
    file: basename(file),
    trace,
    gates: gates.get(`${basename(file)}#${trace}`) ?? {},
    echoes: echoes.map((echo) => [echo.time_us, echo.amplitude_percent, echo.prominence_percent]),
  }));
}

/**
 * Every figure of one against its like in the other.
 * Where the highest point of a gate is the gate's own edge only the project looks at the neighbour outside,
 * so the peer gives no time between samples there: such readings are counted and left out.
 */
export function compare(workbenchAnswer, peerAnswer) {
  const ours = new Map(fromWorkbench(workbenchAnswer).map((capture) => [`${capture.file}#${capture.trace}`, capture]));
  const result = { captures: peerAnswer.captures.length, figures: 0, atEdge: 0, greatest: 0, faults: [] };
  const hold = (mine, theirs, place) => {
    result.figures++;
    if (mine === null || mine === undefined || theirs === null) {
      if ((mine ?? null) !== theirs) result.faults.push(`${place}: ${mine ?? null} against ${theirs}`);
      return;
    }
    const difference = Math.abs(mine - theirs);
    if (difference > result.greatest) result.greatest = difference;
    if (!(difference <= tolerance)) result.faults.push(`${place}: ${mine} against ${theirs}`);
  };
  if (ours.size !== result.captures) result.faults.push(`${ours.size} captures against ${result.captures}`);
  for (const theirs of peerAnswer.captures) {
    const place = `${theirs.file}#${theirs.trace}`;
    const mine = ours.get(place);
    if (!mine) {
      result.faults.push(`${place}: not read`);
      continue;
    }
    for (const [gate, reading] of Object.entries(theirs.gates)) {
      const own = mine.gates[gate] ?? {};
      hold(own.crossing_us, reading.crossing_us, `${place} ${gate} crossing_us`);
      if (reading.at_edge) {
        result.atEdge++;
        continue;
      }
      hold(own.time_us, reading.time_us, `${place} ${gate} time_us`);
      hold(own.amplitude_percent, reading.amplitude_percent, `${place} ${gate} amplitude_percent`);
    }
    if (mine.echoes.length !== theirs.echoes.length) {
      result.faults.push(`${place}: ${mine.echoes.length} echoes against ${theirs.echoes.length}`);
      continue;
    }
    theirs.echoes.forEach((echo, i) => {
      echo.forEach((figure, k) => {
        hold(mine.echoes[i][k], figure, `${place} echo ${i + 1} ${['time', 'amplitude', 'prominence'][k]}`);
      });
    });
  }
  return result;
}
