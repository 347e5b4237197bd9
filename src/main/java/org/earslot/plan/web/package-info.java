/** Pages of {@code plan}. */
@NullMarked
package org.earslot.plan.web;

import org.jspecify.annotations.NullMarked;
