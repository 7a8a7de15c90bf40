/** The ISO date by which the server judges acceptances. */
export function today(): string {
  return new Date().toISOString().slice(0, 10);
}
