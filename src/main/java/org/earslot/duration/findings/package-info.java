/** What is found, given reports, circumstances and what was found before. */
@NullMarked
package org.earslot.duration.findings;

import org.jspecify.annotations.NullMarked;
