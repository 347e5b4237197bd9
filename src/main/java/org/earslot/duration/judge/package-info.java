/** Forecasts judged: scores, rolling origin, and plainer models to compare with. */
@NullMarked
package org.earslot.duration.judge;

import org.jspecify.annotations.NullMarked;
