// Small parts of pages.
export const at = (id) => document.getElementById(id);

export function say(element, ...parts) {
  element.replaceChildren(...parts);
}

export function notice(...parts) {
  say(at("notice"), ...parts);
}

// Words in the letters that the module gives them.
export function written(pieces) {
  return pieces.map(({ text, tags }) => tags.reduceRight((inner, tag) => {
    const element = document.createElement(tag);
    element.append(inner);
    return element;
  }, document.createTextNode(text)));
}

export function bold(words) {
  const element = document.createElement("b");
  element.textContent = words;
  return element;
}

export function button(words, act) {
  const element = document.createElement("button");
  element.type = "button";
  element.textContent = words;
  element.addEventListener("click", act);
  return element;
}

export function fill(select, entries, chosen) {
  const made = entries.map(([value, words]) => {
    const element = document.createElement("option");
    element.value = value;
    element.textContent = words;
    element.selected = value === chosen;
    return element;
  });
  select.replaceChildren(...made);
}

export function quiet(words) {
  const element = document.createElement("small");
  element.textContent = words;
  return element;
}
