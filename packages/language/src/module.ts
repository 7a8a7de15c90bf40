/**
 * The language's services. The server composes these modules with those of `langium/lsp`; everything that works without
 * an editor uses `createCoupletCoreServices`.
 */
import {
  createDefaultCoreModule,
  createDefaultSharedCoreModule,
  type DefaultSharedCoreModuleContext,
  EmptyFileSystem,
  inject,
  type LangiumCoreServices,
  type LangiumSharedCoreServices,
  type Module,
  type PartialLangiumCoreServices,
} from 'langium';
import { CoupletGeneratedModule, CoupletGeneratedSharedModule } from './generated/module.ts';
import { CoupletLexer } from './parser/lexer.ts';
import { CoupletTokenBuilder } from './parser/token-builder.ts';

export type CoupletAddedServices = Record<never, never>;

export type CoupletServices = LangiumCoreServices & CoupletAddedServices;

export const CoupletModule: Module<CoupletServices, PartialLangiumCoreServices & CoupletAddedServices> = {
  parser: {
    TokenBuilder: () => new CoupletTokenBuilder(),
    Lexer: (services) => new CoupletLexer(services),
  },
};

export function createCoupletCoreServices(context: DefaultSharedCoreModuleContext = EmptyFileSystem): {
  shared: LangiumSharedCoreServices;
  Couplet: CoupletServices;
} {
  const shared = inject(createDefaultSharedCoreModule(context), CoupletGeneratedSharedModule);
  const Couplet = inject(createDefaultCoreModule({ shared }), CoupletGeneratedModule, CoupletModule);
  shared.ServiceRegistry.register(Couplet);
  return { shared, Couplet };
}
