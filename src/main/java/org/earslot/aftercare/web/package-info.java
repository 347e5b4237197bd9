/** The pages of missed visits, recall and the wording of letters, and the fields of letters. */
@NamedInterface("web")
@NullMarked
package org.earslot.aftercare.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
