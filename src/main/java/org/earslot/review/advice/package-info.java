/** What to change, and the evidence for it. */
@NamedInterface("advice")
@NullMarked
package org.earslot.review.advice;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
