// Stands behind the theme's own support for stemmers (see offline.py): search in another language finds
// a word in its other forms too. The theme leaves its stemmers out, for each term that one types is a
// beginning ("pump*"), and the words of its index must stay whole for that.

(() => {
  const { lunr } = self;
  const { query } = lunr.Index.prototype;
  const known = new WeakMap(); // of an index, its words by stem

  function stem(word) {
    const spoken = Object.values(lunr).find((one) => one?.stemmer);
    return spoken ? String(spoken.stemmer(new lunr.Token(word, {})) ?? word) : word;
  }

  function words(index) {
    if (!known.has(index)) {
      const found = new Map();
      for (const word of Object.keys(index.invertedIndex)) {
        const its = stem(word);
        found.set(its, [...(found.get(its) ?? []), word]);
      }
      known.set(index, found);
    }
    return known.get(index);
  }

  lunr.Index.prototype.query = function (ask) {
    const typedAs = new Map(); // another form that is looked for, by what was typed
    const found = query.call(this, (asked) => {
      ask.call(asked, asked);
      for (const { term, presence, fields, boost } of [...asked.clauses]) {
        const typed = term.replace(/\*$/, "");
        if (presence !== lunr.Query.presence.OPTIONAL || typed.includes("*")) continue;
        for (const form of words(this).get(stem(typed)) ?? []) {
          if (form.startsWith(typed)) continue;
          typedAs.set(form, typed);
          asked.clause({ term: form, fields, boost, usePipeline: false });
        }
      }
    });
    // The theme tells which of the typed words a page lacks: those are there, in another form.
    for (const { matchData } of found) {
      for (const form of Object.keys(matchData.metadata).filter((one) => typedAs.has(one))) {
        const { [form]: there, ...rest } = matchData.metadata;
        const typed = typedAs.get(form);
        matchData.metadata = { ...rest, [typed in rest ? form : typed]: there };
      }
    }
    return found;
  };
})();
