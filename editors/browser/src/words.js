// Markdown of Levare's, as nodes. Everything becomes text or one of a few elements; nothing that a card holds can
// become markup, because no markup is ever read here.

export function element(name, given = {}, ...inside) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(given)) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith('on')) made.addEventListener(key.slice(2), value);
    else if (key === 'class') made.className = value;
    else made.setAttribute(key, value === true ? '' : value);
  }
  made.append(...inside.filter((one) => one !== null && one !== undefined));
  return made;
}

const INLINE = /\\([\\`*_[\]<>|~@\-+#=.)&:!])|`([^`]+)`|\*\*((?:\\.|[^*\\])+)\*\*|\*((?:\\.|[^*\\])+)\*|!\[((?:\\.|[^\]\\])*)\]\((data:image\/svg\+xml;base64,[A-Za-z0-9+/=]+)\)/g;

function inline(text) {
  const nodes = [];
  let from = 0;
  for (const found of text.matchAll(INLINE)) {
    if (found.index > from) nodes.push(text.slice(from, found.index));
    const [whole, escaped, code, bold, slanted, words, address] = found;
    if (escaped !== undefined) nodes.push(escaped);
    else if (code !== undefined) nodes.push(element('code', {}, code));
    else if (bold !== undefined) nodes.push(element('strong', {}, ...inline(bold)));
    else if (slanted !== undefined) nodes.push(element('em', {}, ...inline(slanted)));
    else nodes.push(element('img', { src: address, alt: plain(words) }));
    from = found.index + whole.length;
  }
  if (from < text.length) nodes.push(text.slice(from));
  return nodes;
}

function plain(text) {
  return text.replace(/\\(.)/g, '$1');
}

/** The nodes of a text. */
export function markdown(text) {
  const made = element('div', { class: 'words' });
  let list = null;
  let fence = null;
  let paragraph = null;
  const close = () => (list = paragraph = null);
  for (const line of text.split(/\r?\n/)) {
    if (line.startsWith('```')) {
      if (fence) fence = null;
      else made.append((fence = element('pre', {})));
      close();
    } else if (fence) fence.append(`${line}\n`);
    else if (!line.trim()) close();
    else if (/^(---+|\* ?\* ?\*)$/.test(line)) {
      close();
      made.append(element('hr'));
    } else if (/^#{1,6} /.test(line)) {
      close();
      // A tooltip is no part of the page's outline.
      made.append(element('p', { class: 'heading' }, ...inline(line.replace(/^#+ /, ''))));
    } else if (/^\s*[-*] /.test(line)) {
      paragraph = null;
      if (!list) made.append((list = element('ul')));
      list.append(element('li', {}, ...inline(line.replace(/^\s*[-*] /, ''))));
    } else if (/^ {4}/.test(line) && !paragraph) {
      const last = made.lastElementChild;
      const pre = last?.tagName === 'PRE' ? last : element('pre');
      if (pre !== last) made.append(pre);
      pre.append(`${line.slice(4)}\n`);
    } else {
      list = null;
      if (paragraph) paragraph.append(/( {2}|\\)$/.test(paragraph.dataset.last) ? element('br') : ' ');
      else made.append((paragraph = element('p')));
      paragraph.append(...inline(line.replace(/(\s+|\\)$/, '')));
      paragraph.dataset.last = line;
    }
  }
  return made;
}

/** Paragraphs of plain words. */
export function paragraphs(text) {
  return text.split('\n\n').map((one) => element('p', {}, one));
}
