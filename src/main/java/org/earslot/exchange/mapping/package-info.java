/** A clinic's own spreadsheet: what its headings, dates and words mean, guessed from the file and confirmed by a person. */
@NullMarked
package org.earslot.exchange.mapping;

import org.jspecify.annotations.NullMarked;
