/** The language's services with everything an editor asks for on top. */

import {
  CoupletGeneratedModule,
  CoupletGeneratedSharedModule,
  CoupletModule,
  type CoupletServices,
} from '@couplet/language';
import { inject, type Module } from 'langium';
import {
  createDefaultModule,
  createDefaultSharedModule,
  type DefaultSharedModuleContext,
  type LangiumServices,
  type LangiumSharedServices,
  type PartialLangiumServices,
  type PartialLangiumSharedServices,
} from 'langium/lsp';
import { CoupletCompletion } from './completion/provider.ts';
import { Colours } from './features/colours.ts';
import { CoupletFormatter } from './features/formatting.ts';
import { CoupletHover } from './features/hover.ts';
import { UseLinks } from './features/links.ts';
import { Outline } from './features/outline.ts';
import { CoupletRename } from './features/rename.ts';
import { ValueHelp } from './features/value-help.ts';
import { AllSymbols } from './features/workspace-symbols.ts';
import { FreshDocumentBuilder } from './fresh-builder.ts';
import type { Sites } from './sites/seam.ts';
import { FOLDERS, UpdateHandler } from './update-handler.ts';
import { WorkspaceLoader } from './workspace.ts';

/** What the features ask of the checked sites; set once the services exist. */
export interface SiteSource {
  current: Sites | undefined;
}

export interface ServerServices {
  readonly sites: SiteSource;
  readonly shared: LangiumSharedServices;
  readonly couplet: LangiumServices & CoupletServices;
}

const sharedModule: Module<LangiumSharedServices, PartialLangiumSharedServices> = {
  workspace: {
    WorkspaceManager: (services) => new WorkspaceLoader(services),
    DocumentBuilder: (services) => new FreshDocumentBuilder(services),
  },
  lsp: {
    WorkspaceSymbolProvider: (services) => new AllSymbols(services),
    DocumentUpdateHandler: (services) => new UpdateHandler(services),
    FileOperationHandler: (services) => {
      const handler = services.lsp.DocumentUpdateHandler as UpdateHandler;
      return {
        fileOperationOptions: { didDelete: FOLDERS, didRename: FOLDERS },
        didDeleteFiles: (params) => handler.didDeleteFiles(params),
        didRenameFiles: (params) => handler.didRenameFiles(params),
      };
    },
  },
};

/** What an editor asks of one document. */
function featuresOver(sites: SiteSource): Module<LangiumServices & CoupletServices, PartialLangiumServices> {
  return {
    lsp: {
      CompletionProvider: (services) => new CoupletCompletion(services, () => sites.current),
      HoverProvider: () => new CoupletHover(() => sites.current),
      DocumentSymbolProvider: () => new Outline(),
      RenameProvider: (services) => new CoupletRename(services),
      DocumentLinkProvider: () => new UseLinks(),
      SemanticTokenProvider: (services) => new Colours(services),
      SignatureHelp: () => new ValueHelp(),
      Formatter: (services) => new CoupletFormatter(services),
    },
  };
}

/** Services of one server. Without a connection they serve tests. */
export function createServerServices(context: DefaultSharedModuleContext): ServerServices {
  const shared = inject(createDefaultSharedModule(context), CoupletGeneratedSharedModule, sharedModule);
  const sites: SiteSource = { current: undefined };
  const couplet = inject(createDefaultModule({ shared }), CoupletGeneratedModule, CoupletModule, featuresOver(sites));
  shared.ServiceRegistry.register(couplet);
  return { shared, couplet, sites };
}
