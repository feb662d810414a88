// A drawing as one function of its data: trees of plain nodes, laid over what stands there already, so that focus and
// a pointer that is held stay where they are.
const SVG = "http://www.w3.org/2000/svg";

/** Return a node: a tag ("svg:path" within SVG), its attributes, what it holds; `on` are its listeners. */
export function h(tag, attributes = {}, ...holds) {
  const { on, ...rest } = attributes;
  return { tag, attributes: rest, on: on ?? {}, holds: holds.flat(Infinity).filter((each) => each !== null && each !== undefined && each !== false) };
}

/** Return a node of SVG. */
export const s = (tag, attributes, ...holds) => h(`svg:${tag}`, attributes, ...holds);

/** Make an element hold exactly these nodes, and strings. */
export function lay(parent, given) {
  const nodes = given.flat(Infinity).filter((each) => each !== null && each !== undefined && each !== false);
  const there = [...parent.childNodes];
  nodes.forEach((node, at) => {
    const old = there[at];
    if (typeof node === "string") {
      if (old?.nodeType === Node.TEXT_NODE) { if (old.data !== node) old.data = node; }
      else swap(parent, document.createTextNode(node), old);
      return;
    }
    const fits = old?.nodeType === Node.ELEMENT_NODE && old.nodeTag === node.tag;
    const element = fits ? old : make(node.tag);
    dress(element, node);
    lay(element, node.holds);
    if (!fits) swap(parent, element, old);
  });
  there.slice(nodes.length).forEach((each) => each.remove());
}

function make(tag) {
  const element = tag.startsWith("svg:") ? document.createElementNS(SVG, tag.slice(4)) : document.createElement(tag);
  element.nodeTag = tag;
  return element;
}

function swap(parent, fresh, old) {
  if (old) old.replaceWith(fresh); else parent.append(fresh);
}

function dress(element, { attributes, on }) {
  const before = element.worn ?? {};
  for (const name of Object.keys(before)) if (!(name in attributes)) element.removeAttribute(name);
  for (const [name, value] of Object.entries(attributes)) {
    if (before[name] === value) continue;
    if (value === false || value === null || value === undefined) element.removeAttribute(name);
    else element.setAttribute(name, value === true ? "" : value);
    if (name === "value" && element !== document.activeElement) element.value = value;
  }
  element.worn = attributes;
  for (const name of Object.keys(element.heard ?? {})) if (!(name in on)) element[`on${name}`] = null;
  for (const [name, act] of Object.entries(on)) element[`on${name}`] = act;
  element.heard = on;
}
