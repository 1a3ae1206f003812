import type { Block } from './types.ts';

/** The plain part of an email; every email can be read without HTML. */
export function asPlainText(blocks: readonly Block[]): string {
  return `${blocks.map(plainBlock).join('\n\n')}\n`;
}

/** The same blocks as plain HTML: no pictures, no colours to rely on, 16 px, links that say where they go. */
export function asHtml(blocks: readonly Block[], lang: string, title: string): string {
  return [
    `<!doctype html><html lang="${lang}"><head><meta charset="utf-8">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escapeHtml(title)}</title></head>`,
    '<body style="margin:0;padding:24px;background:#fff;color:#1b1b1b;font:16px/1.5 sans-serif;max-width:36em">',
    ...blocks.map(htmlBlock),
    '</body></html>',
  ].join('\n');
}

function plainBlock(block: Block): string {
  if (typeof block === 'string') return block;
  if ('heading' in block) return block.heading;
  if ('list' in block) return block.list.map((item) => `- ${item}`).join('\n');
  return `${block.words}: ${block.link}`;
}

function htmlBlock(block: Block): string {
  if (typeof block === 'string') return `<p>${escapeHtml(block).replace(/\n/g, '<br>')}</p>`;
  if ('heading' in block) return `<h2 style="font-size:18px">${escapeHtml(block.heading)}</h2>`;
  if ('list' in block) return `<ul>${block.list.map((item) => `<li>${escapeHtml(item)}</li>`).join('')}</ul>`;
  return `<p><a href="${escapeHtml(block.link)}" style="color:#0b4a8f">${escapeHtml(block.words)}</a></p>`;
}

function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (char) => `&#${char.charCodeAt(0)};`);
}
