// What the build gives for imports that are not code.
declare module '*?worker&url' {
  const url: string;
  export default url;
}
declare module '*.css';

declare module 'shpjs' {
  /** Reads a ZIP with a shapefile, or several, as GeoJSON. */
  const read: (zip: ArrayBuffer) => Promise<unknown>;
  export { read as default };
}
