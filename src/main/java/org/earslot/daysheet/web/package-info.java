/** The pages of the day sheet and the running list, and the day in the interface for programs. */
@NullMarked
package org.earslot.daysheet.web;

import org.jspecify.annotations.NullMarked;
