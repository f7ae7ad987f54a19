/** What the address names: its fragment, without `#`. */
export function fragment(): string {
  try {
    return decodeURIComponent(location.hash.slice(1));
  } catch {
    return location.hash.slice(1);
  }
}
