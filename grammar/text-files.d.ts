declare module '*.graft' {
  const text: string;
  export default text;
}
declare module '*.md' {
  const text: string;
  export default text;
}
declare module '*.css' {
  const text: string;
  export default text;
}
