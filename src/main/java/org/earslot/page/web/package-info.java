/** What every page and every answer to a program shares: the first page, refusals and failures. */
@NullMarked
package org.earslot.page.web;

import org.jspecify.annotations.NullMarked;
