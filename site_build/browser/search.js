// The theme's search hears keys alone: what is pasted, dictated or cleared comes without any. Here it is
// told as if a key had been let go; a value that it has looked at already it passes over by itself.

/** The search looks at what stands in its box. */
export function lookAtQuery() {
  document.querySelector(".md-search__input")?.dispatchEvent(new KeyboardEvent("keyup"));
}

export function hearWhatIsPutIn() {
  const box = document.querySelector(".md-search__input");
  box?.addEventListener("input", lookAtQuery);
  box?.form.addEventListener("reset", () => setTimeout(lookAtQuery)); // the box is empty only after it
}
