/** The day sheet, the running list and the tray rules; the day for programs. */
@NullMarked
package org.earslot.daysheet.web;

import org.jspecify.annotations.NullMarked;
