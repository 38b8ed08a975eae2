/** A small tree of XML, written out with every text and attribute escaped. */
export interface Xml {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly children: readonly (Xml | string)[];
}

export type XmlChild = Xml | string | number | undefined | false | readonly XmlChild[];

const flat = (children: readonly XmlChild[]): (Xml | string)[] =>
  children.flatMap(child => {
    if (child === undefined || child === false) return [];
    if (typeof child === 'string') return [child];
    if (typeof child === 'number') return [String(child)];
    if (Array.isArray(child)) return flat(child as readonly XmlChild[]);
    return [child as Xml];
  });

/**
 * One element; undefined and false children are left out, lists are joined in.
 * @example
 * writeXml(xml('note', { id: 1 }, 'A & B')).includes('<note id="1">A &amp; B</note>') // => true
 */
export const xml = (
  name: string,
  attributes: Readonly<Record<string, string | number>> = {},
  ...children: readonly XmlChild[]
): Xml => ({ name, attributes, children: flat(children) });

// Characters XML 1.0 does not allow at all are dropped, the five special ones escaped.
const escape = (text: string): string =>
  text
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;');

/** As text, indented by two spaces; elements holding text stay on one line. */
export const writeXml = (node: Xml, indent = ''): string => {
  const attributes = Object.entries(node.attributes)
    .map(([k, v]) => ` ${k}="${escape(String(v))}"`)
    .join('');
  if (node.children.length === 0) return `${indent}<${node.name}${attributes}/>\n`;
  if (node.children.every(child => typeof child === 'string')) {
    return `${indent}<${node.name}${attributes}>${node.children.map(escape).join('')}</${node.name}>\n`;
  }
  const inner = node.children
    .map(child =>
      typeof child === 'string' ? `${indent}  ${escape(child)}\n` : writeXml(child, `${indent}  `),
    )
    .join('');
  return `${indent}<${node.name}${attributes}>\n${inner}${indent}</${node.name}>\n`;
};
