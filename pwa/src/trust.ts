// The page's policy lets scripts be named only through a Trusted Types policy called "app". Ours
// lets through addresses of this very site, and text that is read as XML and never shown.

interface Policy {
  createScriptURL(url: string): string;
  createHTML(text: string): string;
}
interface Factory {
  createPolicy(name: string, rules: Policy): Policy;
}

function ownURL(url: string): string {
  const full = new URL(url, location.href);
  if (full.origin !== location.origin) throw new TypeError(`${full.origin} is not this site`);
  return full.href;
}

const factory = (globalThis as { trustedTypes?: Factory }).trustedTypes;
const policy = factory?.createPolicy('app', {
  createScriptURL: ownURL,
  createHTML: (text) => text,
});

/** An address of ours in the form that Worker and service worker registration accept. */
export const scriptURL = (url: string): string => policy?.createScriptURL(url) ?? ownURL(url);

/** A document of its own that no script of it can leave: for files of other programs. */
export const parseXML = (text: string): Document =>
  new DOMParser().parseFromString(policy?.createHTML(text) ?? text, 'text/xml');
