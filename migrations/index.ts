import type { Migration } from 'kysely';
import * as records from './0001_records.ts';
import * as ringList from './0002_ring_list.ts';
import * as alarm from './0003_alarm.ts';
import * as papers from './0004_papers.ts';
import * as mailbox from './0005_mailbox.ts';
import * as log from './0006_log.ts';
import * as foretold from './0007_foretold.ts';
import * as chainedJobs from './0008_chained_jobs.ts';
import * as linksAndPictures from './0009_links_and_pictures.ts';
import * as reviewBlocks from './0010_review_blocks.ts';
import * as signIn from './0011_sign_in.ts';
import * as facePictures from './0013_face_pictures.ts';
import * as erased from './0090_erased.ts';
import * as manyAtOnce from './0091_many_at_once.ts';
import * as takeStock from './0092_take_stock.ts';
import * as workByShop from './0094_work_by_shop.ts';
import * as whoseSecret from './0095_whose_secret.ts';
import * as foundByIndex from './0096_found_by_index.ts';
import * as ordersToSign from './0097_orders_to_sign.ts';

/** Forward only and never edited once landed: a change to the schema is a new number. */
export const migrations: Readonly<Record<string, Migration>> = {
  '0001_records': records,
  '0002_ring_list': ringList,
  '0003_alarm': alarm,
  '0004_papers': papers,
  '0005_mailbox': mailbox,
  '0006_log': log,
  '0007_foretold': foretold,
  '0008_chained_jobs': chainedJobs,
  '0009_links_and_pictures': linksAndPictures,
  '0010_review_blocks': reviewBlocks,
  '0011_sign_in': signIn,
  '0013_face_pictures': facePictures,
  '0090_erased': erased,
  '0091_many_at_once': manyAtOnce,
  '0092_take_stock': takeStock,
  '0094_work_by_shop': workByShop,
  '0095_whose_secret': whoseSecret,
  '0096_found_by_index': foundByIndex,
  '0097_orders_to_sign': ordersToSign,
};
