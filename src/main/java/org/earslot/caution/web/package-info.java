/** Pages of {@code caution}. */
@NullMarked
package org.earslot.caution.web;

import org.jspecify.annotations.NullMarked;
