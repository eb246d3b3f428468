(() => {
  // What a page shows, measured by a browser: text out of its box, and the least contrast of any text.
  const visible = (e) => { const s = getComputedStyle(e); return s.display !== 'none' && s.visibility !== 'hidden'; };
  const rgb = (c) => { const m = c.match(/[\d.]+/g).map(Number); return m.length > 3 ? m : [...m, 1]; };
  const light = (c) => { const [r, g, b] = c.slice(0, 3).map((v) => { v /= 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; }); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const ground = (e) => { for (let n = e; n; n = n.parentElement) { const c = rgb(getComputedStyle(n).backgroundColor);
    if (c[3] === 1) return c; } return [255, 255, 255, 1]; };
  const scrolled = (e) => e.closest('.scroll') !== null;
  const out = [], poor = [];
  let texts = 0;
  const room = document.documentElement.clientWidth;
  for (const e of document.querySelectorAll('body *')) {
    const own = [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
    if (!own || !visible(e) || e.closest('title, desc, style, .skip')) continue;
    texts += 1;
    const box = e.getBoundingClientRect();
    if (!scrolled(e) && (box.right > room + 1 || box.left < -1)) out.push([e.tagName, e.textContent.slice(0, 40), box.right]);
    const inSvg = e.namespaceURI.endsWith('svg');
    const ink = rgb(inSvg ? getComputedStyle(e).fill : getComputedStyle(e).color);
    const [a, b] = [light(ink), light(ground(e))].sort((x, y) => y - x);
    const ratio = (a + 0.05) / (b + 0.05);
    if (ratio < 4.5) poor.push([e.tagName, e.textContent.slice(0, 40), ratio]);
  }
  return { room, wide: document.documentElement.scrollWidth, texts, out, poor };
})()
