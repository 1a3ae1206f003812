/*
 * GET /w/:token/first-multifocals
 */
import type { ForWearer } from '../view.ts';

export type FirstMultifocalsView = { readonly about: ForWearer };
