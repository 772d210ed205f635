// What the page holds of the answer that it shows. Of the next one comes only what differs, told over
// this one by its name; Python remembers what it sent under that name, and sends all where it doesn't.

const OF_FORM = ["slots", "values", "settled", "attributes"];
const KINDS = ["parts", ...OF_FORM];
let count = 0;

/** A name that no other answer of this engine has, whichever page or frame asks. */
export function newName() {
  count += 1;
  return `${performance.timeOrigin}-${Math.random()}-${count}`;
}

export class Held {
  name; // of the answer; nothing until one has come
  #kinds = {};

  /**
   * A reply with all that holds now, the answer in it having this name; `same` where it is told over
   * another one and the form stays as it is there.
   */
  take(name, reply) {
    const before = reply.over ? this.#kinds : {};
    const made = {};
    for (const kind of KINDS) {
      made[kind] = { ...before[kind], ...reply[kind] };
      reply.gone?.[kind]?.forEach((key) => delete made[kind][key]);
    }
    this.#kinds = made;
    this.name = name;
    const stays = (kind) => !Object.keys(reply[kind] ?? {}).length && !reply.gone?.[kind];
    const same = Boolean(reply.over) && OF_FORM.every(stays);
    return { ...reply, ...made, same };
  }
}
