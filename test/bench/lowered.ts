/** A generated site from its texts to its design, stage by stage. */
import { addLibrary, type CoupletFile, createCoupletCoreServices, type Lowered, lower } from '@couplet/language';
import { URI } from 'langium';
import { type GeneratedFile, generateSite } from './generate.ts';

export interface Front {
  readonly files: readonly GeneratedFile[];
  readonly lowered: Lowered;
}

/** `stage` is told of each piece of work and does it. */
export async function lowered(
  couplings: number,
  fileCount: number,
  stage: <T>(name: string, work: () => T | Promise<T>) => Promise<T> = async (_name, work) => work(),
): Promise<Front> {
  const files = generateSite(couplings, fileCount);
  const services = createCoupletCoreServices();
  addLibrary(services.shared);
  const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = services.shared.workspace;
  const uri = (name: string) => URI.parse(`memory:///bench/${name}`);

  const documents = await stage('parse', () =>
    files.map((file) => LangiumDocumentFactory.fromString<CoupletFile>(file.text, uri(file.name))),
  );
  const main = uri('site.couplet').toString();
  for (const file of files) {
    if (file.name !== 'site.couplet')
      services.Couplet.references.SiteScopes.link(main, file.name, uri(file.name).toString());
  }
  await stage('link', async () => {
    for (const document of documents) LangiumDocuments.addDocument(document);
    await DocumentBuilder.build(documents, { validation: true });
  });
  return { files, lowered: await stage('lower', () => lower(documents, main)) };
}
