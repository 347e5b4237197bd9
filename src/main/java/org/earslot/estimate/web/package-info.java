/** Pages and interface for programs of {@code estimate}. */
@NullMarked
package org.earslot.estimate.web;

import org.jspecify.annotations.NullMarked;
