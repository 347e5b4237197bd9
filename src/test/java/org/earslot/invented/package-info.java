/** Invented clinics, whose truth is known: the yardstick of the estimator and of list policies. Test use only. */
@NullMarked
package org.earslot.invented;

import org.jspecify.annotations.NullMarked;
