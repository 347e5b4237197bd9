/** The pages of the review, its files and its place in the interface for programs. */
@NullMarked
package org.earslot.review.web;

import org.jspecify.annotations.NullMarked;
