# The target `git`: libgit2. Where its archive is to be had it is linked in without the libraries it would speak to a
# network with, which sidelint never does: loading those and reading the machine's certificates would cost more than
# a usual check of a commit. Elsewhere it is the shared library, and all else stays the same.
option(SIDELINT_GIT_ARCHIVE "Link libgit2's archive, without network" ON)

add_library(git INTERFACE)
target_include_directories(git SYSTEM INTERFACE ${libgit2_INCLUDE_DIRS})

# What libgit2 1.5 calls of libssh2 and of GSSAPI. Starting and ending find nothing to do, the rest is never reached.
set(git_absent
    gss_delete_sec_context gss_display_status gss_import_name gss_indicate_mechs gss_init_sec_context
    gss_release_buffer gss_release_name gss_release_oid_set GSS_C_NT_HOSTBASED_SERVICE
    libssh2_agent_connect libssh2_agent_disconnect libssh2_agent_free libssh2_agent_get_identity libssh2_agent_init
    libssh2_agent_list_identities libssh2_agent_userauth libssh2_channel_close libssh2_channel_free
    libssh2_channel_open_ex libssh2_channel_process_startup libssh2_channel_read_ex libssh2_channel_set_blocking
    libssh2_channel_write_ex libssh2_hostkey_hash libssh2_knownhost_checkp libssh2_knownhost_free
    libssh2_knownhost_init libssh2_knownhost_readfile libssh2_session_abstract libssh2_session_disconnect_ex
    libssh2_session_free libssh2_session_handshake libssh2_session_hostkey libssh2_session_init_ex
    libssh2_session_last_error libssh2_session_method_pref libssh2_session_set_blocking
    libssh2_userauth_authenticated libssh2_userauth_keyboard_interactive_ex libssh2_userauth_list
    libssh2_userauth_password_ex libssh2_userauth_publickey libssh2_userauth_publickey_fromfile_ex
    libssh2_userauth_publickey_frommemory)
set(git_idle libssh2_init libssh2_exit)
# Instead of these two, which would read the certificates: "cannot be read".
set(git_without mbedtls_x509_crt_parse_file mbedtls_x509_crt_parse_path)

set(git_stubs "// Made by git.cmake.\n#include <cstdlib>\n\nextern \"C\" {\n")
foreach(name IN LISTS git_absent)
  string(APPEND git_stubs "void ${name}() { std::abort(); }\n")
endforeach()
foreach(name IN LISTS git_idle)
  string(APPEND git_stubs "int ${name}() { return 0; }\n")
endforeach()
foreach(name IN LISTS git_without)
  string(APPEND git_stubs "int __wrap_${name}(void*, const char*) { return -1; }\n")
  list(APPEND git_options "LINKER:--wrap=${name}")
endforeach()
string(APPEND git_stubs "}\n")
file(CONFIGURE OUTPUT no_network.cpp CONTENT "${git_stubs}")

set(git_archives)
foreach(name git2 mbedtls mbedx509 mbedcrypto http_parser pcre2-8 z)
  find_library(SIDELINT_ARCHIVE_${name} NAMES lib${name}.a)
  list(APPEND git_archives ${SIDELINT_ARCHIVE_${name}})
endforeach()
if(SIDELINT_GIT_ARCHIVE AND NOT git_archives MATCHES "NOTFOUND" AND NOT CMAKE_CROSSCOMPILING)
  file(CONFIGURE OUTPUT start_git.cpp CONTENT
       "#include <git2.h>\nint main() { return git_libgit2_init() == 1 && git_libgit2_shutdown() == 0 ? 0 : 1; }\n")
  try_run(SIDELINT_GIT_STARTS SIDELINT_GIT_LINKS ${CMAKE_CURRENT_BINARY_DIR}/start_git
          SOURCES ${CMAKE_CURRENT_BINARY_DIR}/start_git.cpp ${CMAKE_CURRENT_BINARY_DIR}/no_network.cpp
          LINK_OPTIONS ${git_options} LINK_LIBRARIES ${git_archives})
endif()
if(SIDELINT_GIT_LINKS AND SIDELINT_GIT_STARTS EQUAL 0)
  add_library(no_network STATIC ${CMAKE_CURRENT_BINARY_DIR}/no_network.cpp)
  target_link_options(git INTERFACE ${git_options})
  target_link_libraries(git INTERFACE ${git_archives} no_network)
else()
  target_link_libraries(git INTERFACE PkgConfig::libgit2)
endif()
