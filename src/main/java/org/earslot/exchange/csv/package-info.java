/** Lines of CSV in and out, as RFC 4180 has it: bounded in memory, forgiving to the lines beside a broken one. */
@NullMarked
package org.earslot.exchange.csv;

import org.jspecify.annotations.NullMarked;
