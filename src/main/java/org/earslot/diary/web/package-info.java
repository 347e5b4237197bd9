/** The diary's pages and its part of the interface for programs. */
@NullMarked
package org.earslot.diary.web;

import org.jspecify.annotations.NullMarked;
