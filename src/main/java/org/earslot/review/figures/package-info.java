/** What happened in a month, in figures. */
@NamedInterface("figures")
@NullMarked
package org.earslot.review.figures;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
