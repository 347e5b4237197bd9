package org.earslot.page.web;

import jakarta.servlet.ServletException;
import java.io.IOException;
import org.apache.catalina.connector.Request;
import org.apache.catalina.connector.Response;
import org.apache.catalina.valves.ValveBase;
import org.earslot.page.ContentPolicy;
import org.springframework.boot.tomcat.servlet.TomcatServletWebServerFactory;
import org.springframework.boot.web.server.WebServerFactoryCustomizer;
import org.springframework.stereotype.Component;

/**
 * Sends the headers that keep a browser safe with every answer, also with those that no filter sees: what the container
 * refuses, and the pages of errors.
 */
@Component
class SafeHeaders implements WebServerFactoryCustomizer<TomcatServletWebServerFactory> {

    @Override
    public void customize(TomcatServletWebServerFactory server) {
        server.addEngineValves(new ValveBase(true) {
            @Override
            public void invoke(Request request, Response response) throws IOException, ServletException {
                response.setHeader("Content-Security-Policy", ContentPolicy.DIRECTIVES);
                response.setHeader("X-Content-Type-Options", "nosniff");
                getNext().invoke(request, response);
            }
        });
    }
}
