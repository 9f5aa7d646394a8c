/** Today's date where the reader is, as 'YYYY-MM-DD'; not the date in UTC. */
export function today(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
}
