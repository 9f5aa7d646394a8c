/** 'tel:+441234567;ext=12' from a number as it is printed. */
export function telephone(number: string): string {
  const [main = '', extension] = number.split(/ ?(?:ext|x)\.? ?/i);
  return `tel:${main.replace(/[^+0-9]/g, '')}${extension ? `;ext=${extension}` : ''}`;
}
