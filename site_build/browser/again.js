// Loads the page again for a new edition, with all that is typed on it in this tab: other tabs have
// typed other things, so none of it goes where they look.

import { isList, isRecord, isSaid, isState, isText } from "./shapes.js";
import { forget, keep, recall } from "./store.js";

const STORE = "sessionStorage"; // a tab's own
const place = () => `again:${location.pathname}`;

const any = () => true;
const isAside = (value) =>
  value === null ||
  (isRecord(any)(value) && isState(value.mine) && [value.notice ?? "", ...(value.linked ?? [])].every(isText));
const isForm = (value) =>
  isRecord(any)(value) &&
  (value.state === undefined || (isState(value.state) && isAside(value.aside))) &&
  isList(isRecord(isText))(value.logs);
const isPage = (value) =>
  isRecord(any)(value) &&
  isRecord(isForm)(value.forms) &&
  isList((pair) => isList(any)(pair) && isText(pair[0]) && isSaid(pair[1]))(value.unkept);

/** What was typed before this page was loaded again, once; else nothing. */
export function typedBefore() {
  const typed = recall(STORE, place(), isPage);
  forget(STORE, place());
  return typed ?? { forms: {}, unkept: [] };
}

/** Load the page again. Tells whether what is typed could be kept; if not, nothing happens. */
export function loadAgain(typed) {
  const kept = keep(STORE, place(), typed);
  kept && location.reload();
  return kept;
}
