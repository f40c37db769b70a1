/** The day by this device's clock and time zone: 2027-06-12. */
export function localDay(now: Date): string {
  const local = new Date(now.getTime() - now.getTimezoneOffset() * 60_000);
  return local.toISOString().slice(0, 10);
}
