/** Lines of CSV in, as RFC 4180 has it: bounded in memory, forgiving to the lines beside a broken one; and what a column is. */
@NullMarked
package org.earslot.exchange.csv;

import org.jspecify.annotations.NullMarked;
