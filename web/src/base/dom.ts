// Small helpers around the DOM. Writing only what differs keeps focus, selection and screen readers
// undisturbed.

type Attributes = Record<string, string | number | boolean>;

export function el<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: (Node | string)[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) set(element, name, value);
  element.append(...children);
  return element;
}

// true: present and empty; false: absent.
export function set(element: Element, name: string, value: string | number | boolean): void {
  if (value === false) element.removeAttribute(name);
  else {
    const text = value === true ? "" : String(value);
    if (element.getAttribute(name) !== text) element.setAttribute(name, text);
  }
}

export function say(node: Node, text: string): void {
  if (node.textContent !== text) node.textContent = text;
}

export function show(element: HTMLElement, shown: boolean): void {
  if (element.hidden === shown) element.hidden = !shown;
}

// Makes `parent` hold exactly `wanted`, in this order. What stays in order is not touched at all.
export function arrange(parent: Node, wanted: Node[]): void {
  const keep = new Set(wanted);
  for (const child of [...parent.childNodes]) if (!keep.has(child)) parent.removeChild(child);
  let next = parent.firstChild;
  for (const node of wanted) {
    if (node === next) next = next.nextSibling;
    else parent.insertBefore(node, next);
  }
}

// One element for each item, kept by its place in the list.
export function list<T>(parent: Element, items: T[], make: () => Element, update: (element: Element, item: T) => void): void {
  while (parent.children.length > items.length) parent.lastElementChild!.remove();
  while (parent.children.length < items.length) parent.append(make());
  items.forEach((item, i) => update(parent.children[i]!, item));
}

export function byId<T extends HTMLElement>(id: string): T {
  const element = document.getElementById(id);
  if (!element) throw new Error(`The page lacks #${id}.`);
  return element as T;
}
