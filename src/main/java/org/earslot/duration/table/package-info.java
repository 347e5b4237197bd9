/** The estimator's table: past visits as rows of named parts. */
@NullMarked
package org.earslot.duration.table;

import org.jspecify.annotations.NullMarked;
