/** The fit: from past visits to a model. */
@NullMarked
package org.earslot.duration.fit;

import org.jspecify.annotations.NullMarked;
