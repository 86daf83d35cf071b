// Markup of the module without its styles, which the page's policy allows only as sheets of their own. Words of a scene are escaped
// in it, so they cannot be taken for tags.
function apart(markup) {
  const styles = [];
  const bare = markup.replace(/<style>([^]*?)<\/style>/g, (_, style) => {
    styles.push(style);
    return "";
  });
  return { bare, styles };
}

// What a figure says of itself, for readers who cannot see it.
export const described = (svg) => {
  const drawn = new DOMParser().parseFromString(apart(svg).bare, "image/svg+xml");
  return ["title", "desc"].map((part) => drawn.querySelector(part)?.textContent ?? "").join(". ");
};

// A report keeps its own styles, and no script can stand in it: it is taken apart and put together in a room of its own.
export function showReport(place, html) {
  const { bare, styles } = apart(html);
  const page = new DOMParser().parseFromString(bare, "text/html");
  const room = place.shadowRoot ?? place.attachShadow({ mode: "open" });
  room.adoptedStyleSheets = styles.map((style) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(style.replace(/\bbody\s*\{/g, ":host {"));
    return sheet;
  });
  room.replaceChildren(...page.body.childNodes);
}
