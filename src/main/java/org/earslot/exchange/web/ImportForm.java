package org.earslot.exchange.web;

/** What was chosen beside the file. */
record ImportForm(String kind, boolean createNames, boolean update) {}
