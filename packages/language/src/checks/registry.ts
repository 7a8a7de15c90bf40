/** Binds the checks to the kinds of node they judge. */
import {
  type AstNode,
  type ValidationAcceptor,
  type ValidationCheck,
  type ValidationChecks,
  ValidationRegistry,
} from 'langium';
import type { AssemblyBody, CoupletAstType, CoupletFile } from '../generated/ast.ts';
import type { CoupletServices } from '../module.ts';
import { checkMembersTaken, checkTaken, checkTakenInSite } from './names.ts';
import {
  checkGroup,
  checkMember,
  checkNamed,
  checkProgram,
  checkProperty,
  checkQuantity,
  checkRating,
  checkRepeated,
} from './properties.ts';
import { type Reporter, reporter } from './report.ts';
import {
  checkAccept,
  checkBond,
  checkComponent,
  checkExpect,
  checkGivenKind,
  checkMeasured,
  checkReading,
  checkState,
} from './statements.ts';

export class CoupletValidationRegistry extends ValidationRegistry {
  constructor(services: CoupletServices) {
    super(services);
    this.register(checksOf(services));
  }
}

function checksOf(services: CoupletServices): ValidationChecks<CoupletAstType> {
  const names = () => services.references.NameProvider;
  const check =
    <N extends AstNode>(...checks: readonly ((node: N, report: Reporter) => void)[]): ValidationCheck<N> =>
    (node: N, accept: ValidationAcceptor) => {
      const report = reporter(accept, names());
      for (const each of checks) each(node, report);
    };
  const resolver = () => services.references.Resolver;
  return {
    CoupletFile: check<CoupletFile>(checkTaken, (file, report) =>
      checkTakenInSite(file, services.references.SiteScopes, report),
    ),
    AssemblyBody: check<AssemblyBody>(checkTaken, checkRepeated),
    Body: check(checkRepeated),
    Component: check(checkComponent, checkRating, checkMembersTaken),
    TypeDeclaration: check(checkMembersTaken),
    Member: check(checkMember),
    Group: check(checkGroup),
    Property: check(checkProperty),
    Program: check(checkProgram),
    NamedValue: check((node, report) => checkNamed(node.value, report)),
    Turn: check((node, report) => checkQuantity(node.duration, 'The time', ['s'], report)),
    Wait: check((node, report) => checkQuantity(node.duration, 'The time', ['s'], report)),
    Confirm: check((node, report) => checkQuantity(node.window, 'The time', ['s'], report)),
    Expect: check((node, report) => checkQuantity(node.within, 'The time', ['s'], report), checkExpect),
    State: check((node, report) => checkState(node, resolver(), report)),
    Bond: check(checkBond),
    Given: check(checkGivenKind),
    Accept: check(checkAccept),
    Measured: check(checkMeasured),
    Reading: check(checkReading),
  };
}
