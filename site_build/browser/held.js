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
   * A reply with all that holds now, the answer in it having this name. Where it is told over another
   * one, `changes` is what differs from that in the form; `same` is whether nothing does.
   */
  take(name, reply) {
    if (!reply.over) {
      this.#kinds = Object.fromEntries(KINDS.map((kind) => [kind, {}]));
    }
    for (const kind of KINDS) {
      Object.assign(this.#kinds[kind], reply[kind]);
      reply.gone?.[kind]?.forEach((key) => delete this.#kinds[kind][key]);
    }
    this.name = name;
    const stays = (kind) => !Object.keys(reply[kind] ?? {}).length && !reply.gone?.[kind];
    const same = Boolean(reply.over) && OF_FORM.every(stays);
    const changes = reply.over && { ...Object.fromEntries(OF_FORM.map((kind) => [kind, reply[kind] ?? {}])), gone: reply.gone };
    return { ...reply, ...this.#kinds, same, changes };
  }
}
