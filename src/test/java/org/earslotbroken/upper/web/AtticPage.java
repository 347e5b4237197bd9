package org.earslotbroken.upper.web;

/** A page. */
public class AtticPage {}
