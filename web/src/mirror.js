/**
 * The DOM mirror: every control and text of the present frame as a real element over the canvas, for screen
 * readers, keyboards and browser tests. It is invisible and lets every touch through to the canvas; a click on a
 * mirror element, which only a keyboard or an assistive tool can make, activates the control of the same id.
 *
 * Elements are kept by id from frame to frame, so that focus and a screen reader's place survive.
 */

/**
 * @typedef {object} Node as ScreenModel::to_json (wasm-shell/ui/screen_model.h) writes it
 * @property {string} id
 * @property {string} role
 * @property {string} [name]
 * @property {string} [value]
 * @property {string} [state]
 * @property {[number, number, number, number]} rect x, y, width, height in CSS px
 * @property {number} [level]
 * @property {string} [hint]
 * @property {string} [input_kind]
 * @property {number} [max_length]
 */

/** Roles whose elements must stand in a group of their kind. */
const kGroupOf = /** @type {Record<string, string>} */ ({tab: 'tablist', radio: 'radiogroup', listitem: 'list'});
const kPressed = new Set(['button', 'tab', 'radio', 'checkbox', 'textfield']);
/** States as they are said of each role. */
const kStates = /** @type {Record<string, string>} */ ({
  disabled: 'aria-disabled',
  busy: 'aria-busy',
});
const kChosen = /** @type {Record<string, string>} */ ({
  tab: 'aria-selected',
  radio: 'aria-checked',
  checkbox: 'aria-checked',
});

/** @param {Node} node */
function tagOf(node) {
  if (node.role === 'heading') return `h${Math.min(Math.max(node.level ?? 2, 1), 6)}`;
  if (node.role === 'text') return 'p';
  if (node.role === 'status') return 'output';
  return kPressed.has(node.role) ? 'button' : 'div';
}

/** @param {Element} element @param {string} name @param {string | null} value */
function setAttribute(element, name, value) {
  if (value === null) {
    element.removeAttribute(name);
  } else if (element.getAttribute(name) !== value) {
    element.setAttribute(name, value);
  }
}

export class Mirror {
  /**
   * @param {HTMLElement} root
   * @param {(node: Node) => void} onActivate
   * @param {(node: Node) => void} onFocus the keyboard came to it: it has to be seen
   */
  constructor(root, onActivate, onFocus) {
    this.root = root;
    /** @type {Node[]} */
    this.nodes = [];
    /** @type {Map<string, {element: HTMLElement, tag: string, node: Node}>} */
    this.shown = new Map();
    this.made = 0;
    /** @param {Event} event */
    const nodeOf = (event) => {
      const element = /** @type {Element} */ (event.target).closest('[data-node]');
      return element ? this.shown.get(/** @type {HTMLElement} */ (element).dataset.key ?? '')?.node : undefined;
    };
    root.addEventListener('click', (event) => {
      const node = nodeOf(event);
      if (node && !isDisabled(node)) onActivate(node);
    });
    root.addEventListener('focusin', (event) => {
      const node = nodeOf(event);
      if (node) onFocus(node);
    });
  }

  /** @param {{title: string, nodes: Node[]}} model */
  update(model) {
    if (model.title && document.title !== model.title) document.title = model.title;
    this.nodes = model.nodes;
    const focused = document.activeElement;
    const wanted = this.elementsFor(model.nodes);
    const kept = new Set(wanted);
    for (const child of [...this.root.children]) {
      if (!kept.has(/** @type {HTMLElement} */ (child))) child.remove();
    }
    let next = this.root.firstElementChild;
    for (const element of wanted) {
      if (element === next) {
        next = next.nextElementSibling;
      } else {
        this.root.insertBefore(element, next);
      }
    }
    // An element that was moved has lost its focus.
    if (focused instanceof HTMLElement && focused !== document.activeElement && this.root.contains(focused)) {
      focused.focus({preventScroll: true});
    }
  }

  /** The topmost node at a point. @param {number} x @param {number} y */
  nodeAt(x, y) {
    for (let i = this.nodes.length - 1; i >= 0; --i) {
      const node = this.nodes[i];
      const [left, top, width, height] = node.rect;
      if (kPressed.has(node.role) && x >= left && x < left + width && y >= top && y < top + height) return node;
    }
    return undefined;
  }

  /** @param {Node[]} nodes @returns {HTMLElement[]} */
  elementsFor(nodes) {
    const before = this.shown;
    this.shown = new Map();
    /** @type {HTMLElement[]} */
    const elements = [];
    /** @type {{role: string, element: HTMLElement, owned: string[]}[]} */
    const groups = [];
    /** @type {typeof groups[0] | undefined} */
    let group;
    for (const node of nodes) {
      let key = node.id;
      for (let twin = 2; this.shown.has(key); ++twin) key = `${node.id} ${twin}`;
      const groupRole = kGroupOf[node.role];
      if (groupRole !== group?.role) {
        group = groupRole ? {role: groupRole, element: this.groupElement(before, groupRole, key), owned: []} : undefined;
        if (group) {
          groups.push(group);
          elements.push(group.element);
        }
      }
      const tag = tagOf(node);
      const old = before.get(key);
      const shown = old?.tag === tag && old.node.role === node.role ? old : this.newElement(key, tag, node);
      if (shown !== old || !isSaidAlike(old.node, node)) dress(shown.element, node);
      if (shown !== old || !isAtSamePlace(old.node, node)) place(shown.element, node);
      shown.node = node;
      this.shown.set(key, shown);
      elements.push(shown.element);
      group?.owned.push(shown.element.id);
    }
    for (const {element, owned} of groups) setAttribute(element, 'aria-owns', owned.join(' '));
    return elements;
  }

  /** @param {string} key @param {string} tag @param {Node} node */
  newElement(key, tag, node) {
    const element = document.createElement(tag);
    element.id = `node-${++this.made}`;
    element.dataset.key = key;
    return {element, tag, node};
  }

  /** @param {Mirror['shown']} before @param {string} role @param {string} firstKey */
  groupElement(before, role, firstKey) {
    const key = `${role} of ${firstKey}`;
    const shown = before.get(key) ?? this.newElement(key, 'div', {id: key, role, rect: [0, 0, 0, 0]});
    setAttribute(shown.element, 'role', role);
    if (role === 'radiogroup') {
      // The options of "part" are "part/first", "part/second": their question is the text "part/label" before them.
      const question = this.shown.get(`${firstKey.slice(0, firstKey.lastIndexOf('/'))}/label`);
      setAttribute(shown.element, 'aria-labelledby', question?.element.id ?? null);
    }
    this.shown.set(key, shown);
    return shown.element;
  }
}

/** All of a node but its place: while a list is scrolled, only that changes. @param {Node} a @param {Node} b */
function isSaidAlike(a, b) {
  return (
    a.id === b.id && a.role === b.role && a.name === b.name && a.value === b.value && a.state === b.state &&
    a.level === b.level && a.hint === b.hint && a.input_kind === b.input_kind && a.max_length === b.max_length
  );
}

/** @param {Node} a @param {Node} b */
const isAtSamePlace = (a, b) => a.rect.every((number, i) => number === b.rect[i]);

/** @param {HTMLElement} element @param {Node} node */
function place(element, node) {
  const [x, y, width, height] = node.rect;
  element.style.transform = `translate(${x}px, ${y}px)`;
  element.style.width = `${width}px`;
  element.style.height = `${height}px`;
}

/** @param {HTMLElement} element @param {Node} node */
function dress(element, node) {
  const {role, name = '', value = '', state = ''} = node;
  element.dataset.node = node.id;
  element.dataset.role = role;
  element.dataset.name = name;
  element.dataset.value = value;
  element.dataset.state = state;
  // Of a step in a list the value is its number.
  const said = value ? (role === 'listitem' ? `${value}. ${name}` : `${name}: ${value}`) : name;
  if (role === 'image') {
    setAttribute(element, 'role', 'img');
    setAttribute(element, 'aria-label', said);
  } else if (element.textContent !== said) {
    element.textContent = said;
  }
  if (element instanceof HTMLButtonElement) element.type = 'button';
  if (role === 'tab' || role === 'radio' || role === 'checkbox' || role === 'listitem' || role === 'alert') {
    setAttribute(element, 'role', role);
  }
  if (role === 'progressbar') {
    setAttribute(element, 'role', role);
    setAttribute(element, 'aria-label', name);
    setAttribute(element, 'aria-valuemin', '0');
    setAttribute(element, 'aria-valuemax', '100');
    setAttribute(element, 'aria-valuenow', String(parseInt(value, 10) || 0));
  }
  if (role === 'textfield') {
    setAttribute(element, 'aria-haspopup', 'dialog');
    setAttribute(element, 'aria-description', node.hint ?? null);
  }
  const states = new Set(state.split(' '));
  for (const [word, attribute] of Object.entries(kStates)) {
    setAttribute(element, attribute, states.has(word) ? 'true' : null);
  }
  const unfolds = states.has('expanded') || states.has('collapsed');
  setAttribute(element, 'aria-expanded', unfolds ? String(states.has('expanded')) : null);
  const chosen = kChosen[role];
  if (chosen) {
    setAttribute(element, chosen, String(states.has('selected') || states.has('checked')));
  } else if (role === 'button') {
    setAttribute(element, 'aria-pressed', states.has('pressed') || states.has('selected') ? 'true' : null);
  }
}

/** @param {Node} node */
export function isDisabled(node) {
  return (node.state ?? '').split(' ').includes('disabled');
}
