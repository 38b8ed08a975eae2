import ts from 'typescript';

/** One exported function of a file, with the examples of its docstring. */
export interface Documented {
  readonly name: string;
  readonly file: string;
  readonly doc: string;
  readonly examples: readonly string[];
}

const isFunction = (node: ts.Expression | undefined): boolean =>
  node !== undefined && (ts.isArrowFunction(node) || ts.isFunctionExpression(node));

const isExported = (node: ts.Statement): boolean =>
  ts.canHaveModifiers(node) &&
  ts.getModifiers(node)?.some(m => m.kind === ts.SyntaxKind.ExportKeyword) === true;

/** The functions a file exports. */
export const functionsOf = (file: string, text: string): readonly Documented[] => {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.ES2022, true);
  return source.statements.filter(isExported).flatMap(node => {
    const named = ts.isFunctionDeclaration(node)
      ? node.name
      : ts.isVariableStatement(node) && isFunction(node.declarationList.declarations[0]?.initializer)
        ? node.declarationList.declarations[0]?.name
        : undefined;
    if (named === undefined || !ts.isIdentifier(named)) return [];
    const tags = ts.getJSDocTags(node).filter(tag => tag.tagName.text === 'example');
    return [
      {
        name: named.text,
        file,
        doc: ts
          .getJSDocCommentsAndTags(node)
          .map(d => d.getText())
          .join('\n'),
        examples: tags.map(tag => ts.getTextOfJSDocComment(tag.comment) ?? ''),
      },
    ];
  });
};

/** Every value a file exports, functions and others. */
export const valuesOf = (file: string, text: string): readonly string[] =>
  ts
    .createSourceFile(file, text, ts.ScriptTarget.ES2022, true)
    .statements.filter(isExported)
    .flatMap(node => {
      if (ts.isFunctionDeclaration(node)) return node.name === undefined ? [] : [node.name.text];
      if (!ts.isVariableStatement(node)) return [];
      return node.declarationList.declarations.flatMap(d => (ts.isIdentifier(d.name) ? [d.name.text] : []));
    });
