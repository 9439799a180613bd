// Runs in the browser. `asked` holds what is asked: either texts to set, and the answer is where their lines end; or
// lines to measure, and the answer is how wide each is. The answer replaces the page.
//
// Lengths in CSS pixels; places in UTF-16 code units.
'use strict';

const asked = JSON.parse(document.getElementById('asked').textContent);

/** The place in `node` where a line begins, for each of its lines but the first; and the paragraph's end. */
function ends(node, leading) {
  const text = node.data;
  const top = node.parentNode.getBoundingClientRect().top;
  const range = document.createRange();
  // The lines that a stretch of text stands on: the first and the last.
  const lines = (from, to) => {
    range.setStart(node, from);
    range.setEnd(node, to);
    let first = Infinity, last = -1;
    for (const box of range.getClientRects()) {
      if (box.width === 0) continue;
      const line = Math.floor(((box.top + box.bottom) / 2 - top) / leading);
      first = Math.min(first, line);
      last = Math.max(last, line);
    }
    return [first, last];
  };
  const found = [];
  let now = 0;
  for (let from = 0; from < text.length;) {
    const space = text.indexOf(' ', from);
    const to = space < 0 ? text.length : space;
    const [first, last] = lines(from, to);
    if (first !== Infinity && first > now) {
      found.push(from);
      now = first;
    }
    // A word that is divided, perhaps more than once. The hyphen before a letter may count as part of it.
    for (let at = from; last > now && at < to; at++) {
      const [, line] = lines(at, at + 1);
      if (line > now) {
        found.push(at);
        now = line;
      }
    }
    from = to + 1;
  }
  found.push(text.length);
  return found;
}

function set({ paragraphs, measures, css }) {
  return measures.map(measure => {
    const part = document.createElement('div');
    part.style.cssText = css + ';width:' + measure + 'px';
    paragraphs.forEach((words, number) => {
      const paragraph = document.createElement('p');
      paragraph.style.textIndent = number > 0 ? '1em' : '0';
      paragraph.textContent = words;
      part.append(paragraph);
    });
    document.body.append(part);
    const leading = parseFloat(getComputedStyle(part).lineHeight);
    const found = [...part.children].map(paragraph => ends(paragraph.firstChild, leading));
    part.remove();
    return found;
  });
}

function measure(lines) {
  const part = document.createElement('div');
  part.style.cssText = 'white-space:pre;hyphens:manual';
  for (const line of lines) {
    const row = document.createElement('div');
    row.style.width = 'max-content';
    row.textContent = line;
    part.append(row);
  }
  document.body.append(part);
  return [...part.children].map(row => row.getBoundingClientRect().width);
}

document.fonts.load('11pt Face').then(faces => {
  if (faces.length !== 1) throw new Error('the face is not loaded');
  const answer = asked.lines ? measure(asked.lines) : asked.ways.map(set);
  document.body.textContent = 'answer:' + JSON.stringify(answer) + ':answer';
}).catch(error => { document.body.textContent = 'error:' + error; });
