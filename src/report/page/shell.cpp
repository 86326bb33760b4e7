#include "report/page/shell.hpp"

#include "report/page/parts.hpp"
#include "report/svg.hpp"

namespace report::page {

Written<Html> begin(Literal title) {
    Written<Html> page;
    page << "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-"
         << css_hash() << "'; script-src 'sha256-" << js_hash()
         << "'; base-uri 'none'; form-action 'none'\">\n"
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>"
         << title << "</title>\n<style>" << css()
         << "</style>\n</head>\n<body>\n<svg class=\"symbols\" aria-hidden=\"true\">" << svg_symbols()
         << "</svg>\n";
    return page;
}

Written<Html> end() {
    Written<Html> page;
    page << "<script>" << js() << "</script>\n</body>\n</html>\n";
    return page;
}

} // namespace report::page
