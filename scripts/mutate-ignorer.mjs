// What changes nothing that anybody could see, and would only be read again and again.
import { declareValuePlugin, PluginKind } from '@stryker-mutator/api/plugin';

export const strykerPlugins = [
  declareValuePlugin(PluginKind.Ignore, 'names-of-options', {
    /** `requireOptions(options, { confidence: true })`: the names count, not what stands behind them. */
    shouldIgnore(path) {
      const call = path.parentPath?.parentPath?.parentPath;
      const isName = path.isBooleanLiteral() && path.parentPath.isObjectProperty();
      if (isName && call?.isCallExpression() && call.node.callee.name === 'requireOptions') {
        return 'Only the names of options are read.';
      }
    },
  }),
];
