package org.earslot.testing;

import java.io.UnsupportedEncodingException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Element;
import org.springframework.mock.web.MockHttpServletResponse;

/**
 * Finds pages by following links from the first ones, as somebody would who opens everything. Addresses that differ in
 * their ids, dates and numbers alone are alike; so many of them are read.
 */
public final class PageWalk {

    private static final int MOST = 300;

    private final Reader reader;
    private final int alike;

    /** Reads one address. */
    @FunctionalInterface
    public interface Reader {

        /** @param place the address without ids, dates and numbers, and the how manieth such it is */
        MockHttpServletResponse read(String address, String place) throws Exception;
    }

    public PageWalk(Reader reader, int alike) {
        this.reader = reader;
        this.alike = alike;
    }

    /** Answers how many pages were read: at most one more than 300. */
    public int from(String... first) throws Exception {
        Deque<String> open = new ArrayDeque<>(Arrays.asList(first));
        Set<String> seen = new HashSet<>(open);
        Map<String, Integer> found = new HashMap<>();
        Map<String, Integer> opened = new HashMap<>();
        int pages = 0;
        while (!open.isEmpty() && pages <= MOST) {
            String address = open.remove();
            String shape = shape(address);
            MockHttpServletResponse answer = reader.read(address, shape + " " + opened.merge(shape, 1, Integer::sum));
            pages++;
            for (String link : links(answer)) {
                if (seen.add(link) && found.merge(shape(link), 1, Integer::sum) <= alike) {
                    open.add(link);
                }
            }
        }
        return pages;
    }

    private static List<String> links(MockHttpServletResponse answer) throws UnsupportedEncodingException {
        List<String> links = new ArrayList<>();
        if (answer.getRedirectedUrl() != null) {
            links.add(answer.getRedirectedUrl());
        } else if (String.valueOf(answer.getContentType()).startsWith("text/html")) {
            for (Element link : Jsoup.parse(answer.getContentAsString()).select("a[href^=/]")) {
                links.add(link.attr("href").replaceAll("#.*", ""));
            }
        }
        links.removeIf(String::isEmpty);
        return links;
    }

    /** An address without ids, dates and numbers. */
    public static String shape(String address) {
        return address.replaceAll("[0-9a-f]{8}-[0-9a-f-]{27}(@[0-9-]+)?", "ID")
                .replaceAll("\\d{4}-\\d\\d(-\\d\\d)?", "DATE")
                .replaceAll("\\d+", "N");
    }
}
