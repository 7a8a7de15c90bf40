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
  type PartialLangiumSharedServices,
} from 'langium/lsp';
import { FreshDocumentBuilder } from './fresh-builder.ts';
import { FOLDERS, UpdateHandler } from './update-handler.ts';

export interface ServerServices {
  readonly shared: LangiumSharedServices;
  readonly couplet: LangiumServices & CoupletServices;
}

const sharedModule: Module<LangiumSharedServices, PartialLangiumSharedServices> = {
  workspace: {
    DocumentBuilder: (services) => new FreshDocumentBuilder(services),
  },
  lsp: {
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

/** Services of one server. Without a connection they serve tests. */
export function createServerServices(context: DefaultSharedModuleContext): ServerServices {
  const shared = inject(createDefaultSharedModule(context), CoupletGeneratedSharedModule, sharedModule);
  const couplet = inject(createDefaultModule({ shared }), CoupletGeneratedModule, CoupletModule);
  shared.ServiceRegistry.register(couplet);
  return { shared, couplet };
}
