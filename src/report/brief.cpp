#include "report/head.hpp"

namespace report {

std::string brief(const Report& report) {
    Written<Plain> text;
    for (const rules::Finding* finding : grouped(report)) {
        text << first_line(*finding) << "\n";
    }
    return std::move(text).text();
}

} // namespace report
