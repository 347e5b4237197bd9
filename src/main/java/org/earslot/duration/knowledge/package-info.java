/** What somebody who knows the clinic says beforehand of its minutes, combined with what its visits say. */
@NullMarked
package org.earslot.duration.knowledge;

import org.jspecify.annotations.NullMarked;
