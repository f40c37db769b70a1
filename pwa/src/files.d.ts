// What the build gives for imports that are not code.
declare module '*?worker&url' {
  const url: string;
  export default url;
}
declare module '*.css';
