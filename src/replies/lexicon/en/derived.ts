import { type Classes, phrases } from '../phrases.ts';

/** Ideas made out of other ideas. Each layer may use the ones before it. */
export const derived: readonly Classes[] = [
  {
    notclear: phrases(`
{not} {clear}, {not} as|that|so|too|fully|entirely|completely|perfectly|exactly|100|quite|be|look|looking|get|getting|come|coming|go|stay|seem|in {clear}, {not} be|look|get|come|go|seem as|so|that|in|into|at|fully {clear}, {not} get .. {clear}, {not} bring .. {clear}, {not} make .. {clear}, less {clear}, {clear} is not, {clear} it is not, anything but {clear}, far from {clear}, want|need to be {clear}, lack of {clear}, lost {clear}, lose focus, loses focus, goes out, hard to {clear}
{not} {good}, {not} as|that|so|too|very|all|look|looking|be|exactly|quite {good}, less {good}, {not} be|look|feel|seem as|so|that {good}, anything but {good}, far from {good}, {not} get on with, {not} getting on with, not work, not working, not much good, not much use, could be {clear}, could be better, could be {good}, {not} come right, not up to much, leave a lot to be desired, leaves a lot to be desired
`),
    notblur: phrases(
      `{not} {blur}, {not} be|a|any|even|in|at|look|get {blur}, nothing {blur}, less {blur}, {not} more {blur}, {blur} {ended}, {blur} have|has|is {ended}, {not} bad, {not} a {bad}, {not} {bad}, no more {blur}`,
    ),
    cantsee: phrases(`
{not} {see}, {not} be able to {see}, {not} really|even|quite|properly|always|hardly|seem to|clearly|easily|ever|get to|manage to {see}, {not} quite|really seem to {see}, not able to {see}, unable to {see}, cannot {see}, struggle to {see}, struggling to {see}, struggle {see}, struggling {see}, struggle with, struggling with, hard to {see}, hard {see}, difficult to {see}, difficulty {see}, difficult {see}, trouble {see}, problem {see}, problems {see}, have a job to {see}, have a job {see}, a job to {see}, hard time {see}, hard work {see}, have to guess, have to squint, squint at, squinting at, squinting to {see}, squint to {see}, peer at, peering at, straining to {see}, strain to {see}, have a hope of {see}, no hope of {see}, no chance of {see}, impossible to {see}, can barely|hardly {see}, could barely|hardly {see}, can only just {see}, only just {see}, can scarcely {see}, {see} nothing, {see} nowt, {see} sod all, {see} bugger all, {see} zilch, {see} diddly, {see} hee haw, fail to {see}, {see} for toffee, not have a clue what, no idea what, blind as a bat, blind to, lose sight of, walked past, walk past, walked right past, ignored, blanked, give up on, beat me
`),
    badword: phrases(`{bad}`),
  },
  {
    unclear: phrases(`{blur}, {notclear}`),
    seeable: phrases(`{clear}, {good}, can {see}, {notblur}, able to {see}`),
  },
];
