/** The rooms of the house and what each may use. DEVELOPERS.md has the same table in words. */
const CORE = '^src/(optics|replies|causes|review)/';
const room = (name, comment, from, notTo) => ({ name, severity: 'error', comment, from, to: notTo });

module.exports = {
  forbidden: [
    room('no-loop', 'No import loop anywhere; type-only imports apart.', { pathNot: '^test/' }, { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } }),
    room('optics-alone', 'Optics use nothing of ours.', { path: '^src/optics/' }, { pathNot: ['^src/optics/', '^src/problems\\.ts$'] }),
    room(
      'replies-alone',
      'Replies use nothing of ours; one library cuts quoted mail.',
      { path: '^src/replies/' },
      { pathNot: ['^src/replies/', '^src/problems\\.ts$', 'node_modules/email-reply-parser'] },
    ),
    room(
      'causes-use-optics',
      'Causes use optics, the types of replies, and zod at their edge.',
      { path: '^src/causes/' },
      { pathNot: ['^src/causes/', '^src/optics/', '^src/replies/types\\.ts$', '^src/problems\\.ts$', 'node_modules/zod'] },
    ),
    room('review-alone', 'Review uses nothing of ours.', { path: '^src/review/' }, { pathNot: ['^src/review/', '^src/problems\\.ts$'] }),
    room('store-knows-types', 'The store knows no use case, page or template.', { path: '^src/store/' }, { path: ['^src/(followup|web|commands|causes|review|optics)/', '^dashboard/', '^templates/'] }),
    room('channels-know-types', 'Channels know no store and no use case.', { path: '^src/channels/' }, { path: ['^src/store/(?!tables)', '^src/(followup|web|commands|causes|review)/', '^dashboard/'] }),
    room('intake-knows-optics', 'Intake turns files into jobs; it knows optics and nothing behind it.', { path: '^src/intake/' }, { path: ['^src/(store|followup|web|commands|causes|review|channels)/', '^dashboard/', '^templates/'] }),
    room('followup-knows-no-page', 'Use cases know no page and no command.', { path: '^src/followup/' }, { path: ['^src/(web|commands|invented)/', '^dashboard/', '^jobs/'] }),
    room('dashboard-view-data-only', 'Pages are functions of their view data.', { path: '^dashboard/' }, { path: ['^src/(?!problems)', '^jobs/', '^migrations/'] }),
    room('templates-alone', 'Templates use nothing of ours.', { path: '^templates/' }, { path: ['^src/', '^dashboard/', '^jobs/'] }),
    room('jobs-call-use-cases', 'A job calls use cases.', { path: '^jobs/' }, { path: ['^src/(web|commands|causes|optics|review|intake|invented)/', '^dashboard/'] }),
    room('core-is-pure', 'The core has no database, network, file or environment.', { path: CORE }, { dependencyTypes: ['core'] }),
    room('nothing-imports-tests', 'The product does not know its tests.', { pathNot: '^test/' }, { path: '^test/' }),
    room('all-found', 'Every import is found.', {}, { couldNotResolve: true }),
  ],
  options: {
    moduleSystems: ['es6'],
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.mjs', '.js'], exportsFields: ['exports'], conditionNames: ['import', 'require', 'node', 'default', 'types'] },
  },
};
