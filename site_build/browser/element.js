/** A new element with a class and a text. */
export function element(name, className, text) {
  const made = document.createElement(name);
  made.className = className;
  made.textContent = text;
  return made;
}

/** A new button and what it does. */
export function button(className, text, act) {
  const made = element("button", className, text);
  made.type = "button";
  made.addEventListener("click", act);
  return made;
}
