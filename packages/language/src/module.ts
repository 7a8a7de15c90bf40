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
  type PartialLangiumSharedCoreServices,
} from 'langium';
import { CoupletValidationRegistry } from './checks/registry.ts';
import { CoupletDocumentValidator } from './checks/validator.ts';
import { CoupletGeneratedModule, CoupletGeneratedSharedModule } from './generated/module.ts';
import { CoupletLexer } from './parser/lexer.ts';
import { CoupletParserMessages } from './parser/messages.ts';
import { CoupletTokenBuilder } from './parser/token-builder.ts';
import { Library } from './references/library.ts';
import {
  CoupletDescriptions,
  CoupletLinker,
  CoupletNameProvider,
  CoupletReferenceDescriptions,
  CoupletReferences,
  CoupletScopeComputation,
  CoupletScopeProvider,
} from './references/linker.ts';
import { CoupletDocumentBuilder } from './references/relink.ts';
import { Resolver } from './references/resolver.ts';
import { SiteScopes } from './references/site-scopes.ts';

export interface CoupletAddedServices {
  references: {
    Library: Library;
    Resolver: Resolver;
    SiteScopes: SiteScopes;
  };
}

export type CoupletServices = LangiumCoreServices & CoupletAddedServices;

export const CoupletModule: Module<CoupletServices, PartialLangiumCoreServices & CoupletAddedServices> = {
  parser: {
    TokenBuilder: () => new CoupletTokenBuilder(),
    Lexer: (services) => new CoupletLexer(services),
    ParserErrorMessageProvider: () => new CoupletParserMessages(),
  },
  validation: {
    ValidationRegistry: (services) => new CoupletValidationRegistry(services),
    DocumentValidator: (services) => new CoupletDocumentValidator(services),
  },
  workspace: {
    AstNodeDescriptionProvider: (services) => new CoupletDescriptions(services),
    ReferenceDescriptionProvider: (services) => new CoupletReferenceDescriptions(services),
  },
  references: {
    Library: (services) => new Library(services.shared),
    SiteScopes: (services) => new SiteScopes(services.shared),
    Resolver: (services) => new Resolver(services.references.Library, services.references.SiteScopes),
    Linker: (services) => new CoupletLinker(services),
    NameProvider: () => new CoupletNameProvider(),
    ScopeProvider: (services) => new CoupletScopeProvider(services),
    ScopeComputation: (services) => new CoupletScopeComputation(services),
    References: (services) => new CoupletReferences(services),
  },
};

/** Goes over the default shared services of either kind. */
export const CoupletSharedModule: Module<LangiumSharedCoreServices, PartialLangiumSharedCoreServices> = {
  workspace: {
    DocumentBuilder: (services) => new CoupletDocumentBuilder(services),
  },
};

export function createCoupletCoreServices(context: DefaultSharedCoreModuleContext = EmptyFileSystem): {
  shared: LangiumSharedCoreServices;
  Couplet: CoupletServices;
} {
  const shared = inject(createDefaultSharedCoreModule(context), CoupletGeneratedSharedModule, CoupletSharedModule);
  const Couplet = inject(createDefaultCoreModule({ shared }), CoupletGeneratedModule, CoupletModule);
  shared.ServiceRegistry.register(Couplet);
  return { shared, Couplet };
}
