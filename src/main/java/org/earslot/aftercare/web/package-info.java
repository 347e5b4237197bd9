/** The page of missed visits, and the fields and words of letters. */
@NamedInterface("web")
@NullMarked
package org.earslot.aftercare.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
