"""What a host is told about a site: the policy it runs under, as three common servers want it.

The policy is as strict as it can be: everything comes from the site itself, no script and no style
stands in a page, and of what is made at run time only WebAssembly and the one worker are allowed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from string import Template
from urllib.parse import urlsplit

POLICY = (
    "default-src 'self'",
    "script-src 'self' 'wasm-unsafe-eval'",
    "worker-src 'self' blob:",
    "img-src 'self' data:",  # the theme's signs, in its style sheet
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
)
NEVER_GUESSED = {"X-Content-Type-Options": "nosniff"}


def policy(may_embed: Sequence[str] = ()) -> str:
    """The Content-Security-Policy that a site needs, and no more.

    `may_embed` are the hosts whose pages may show a calculator, such as "https://example.org".
    """
    ancestors = " ".join(("frame-ancestors 'self'", *may_embed))
    return "; ".join((*POLICY, ancestors))


def headers(may_embed: Sequence[str] = ()) -> Mapping[str, str]:
    """The headers of every answer."""
    return {"Content-Security-Policy": policy(may_embed), **NEVER_GUESSED}


# What bears a hash in its name never changes; all else is asked for again each time.
HASHED = "assets/(engine|css|javascripts|javascripts/workers|stylesheets)/[^/]+$"
# The engine's parts carry gzip: packed again they are half a per cent smaller, for half a second.
_PACKED = r"assets/engine/.*[.][0-9][0-9]?[.]js$"
_NGINX = Template("""\
# nginx (the map stands outside of "server")
map $$uri $$guide_cache {
    ~^${path}$hashed  "public, max-age=31536000, immutable";
    default  "no-cache";
}
${bare}location $path {
    alias /srv/guide/;
    error_page 404 ${path}404.html;
    add_header Content-Security-Policy "$policy" always;
    add_header X-Content-Type-Options "nosniff" always;
    add_header Cache-Control $$guide_cache always;
    gzip on;
    gzip_vary on;
    gzip_comp_level 5;
    gzip_types $types;
    location ~ "^${path}$packed" { gzip off; }
}
""")
# Apache marks what it packs by "-gzip" in its tag, and then knows no page again by it.
_APACHE = Template("""\
# Apache (with mod_headers, mod_deflate, mod_filter and mod_setenvif)
${bare}Alias "$path" "/srv/guide/"
<Directory "/srv/guide">
    Require all granted
    ErrorDocument 404 ${path}404.html
    Header always set Content-Security-Policy "$policy"
    Header always set X-Content-Type-Options "nosniff"
    Header always set Cache-Control "no-cache"
    <If "%{REQUEST_URI} =~ m#^${path}$hashed#">
        Header always set Cache-Control "public, max-age=31536000, immutable"
    </If>
    RequestHeader edit If-None-Match "-gzip" ""
    AddOutputFilterByType DEFLATE text/html $types
    SetEnvIf Request_URI "^${path}$packed" no-gzip
</Directory>
""")
# In Caddy a block for errors may not stand in one for a path. What is missing is never for ever.
_CADDY = Template("""\
# Caddy
${bare}handle_path ${path}* {
    root * /srv/guide
    header Content-Security-Policy "$policy"
    header X-Content-Type-Options "nosniff"
    @hashed {
        path_regexp ^/$hashed
        file
    }
    header @hashed Cache-Control "public, max-age=31536000, immutable"
    header ?Cache-Control "no-cache"
    @unpacked not path_regexp ^/$packed
    encode @unpacked gzip
    @unknown not file {path} {path}/index.html
    handle @unknown {
        rewrite * /404.html
        file_server {
            status 404
        }
    }
    file_server
}
""")
# What is worth packing, beside HTML; servers know scripts by the one name or the other.
_TYPES = (
    "text/css",
    "text/javascript",
    "application/javascript",
    "application/json",
    "application/xml",
    "text/xml",
    "image/svg+xml",
)
# The address without its last stroke, where the guide isn't at the root of the host.
_BARE = {
    "nginx": "location = {0} {{ return 301 {0}/; }}\n",
    "apache": 'RedirectMatch permanent "^{0}$" "{0}/"\n',
    "caddy": "redir {0} {0}/ permanent\n",
}
SERVERS = {"nginx": _NGINX, "apache": _APACHE, "caddy": _CADDY}


def packs(path: str, media_type: str) -> bool:
    """Whether a host with these lines packs the file of that path and type on its way."""
    text = media_type.partition(";")[0] in ("text/html", *_TYPES)
    return text and not re.search(_PACKED, path)


def snippet(server: str, address: str = "", may_embed: Sequence[str] = ()) -> str:
    """The lines for one of SERVERS, for a site unpacked into /srv/guide.

    `address` is where the guide will be; of it the path counts. Raises KeyError.
    """
    bare = urlsplit(address).path.rstrip("/")
    return SERVERS[server].substitute(
        path=f"{bare}/",
        bare=_BARE[server].format(bare) if bare else "",
        policy=policy(may_embed),
        hashed=HASHED,
        packed=_PACKED,
        types=" ".join(_TYPES),
    )


def advice(address: str = "", may_embed: Sequence[str] = ()) -> str:
    """What `build` prints: the policy, then each server's lines."""
    return "\n".join(
        (
            "A host should send this policy with every file:",
            f"  Content-Security-Policy: {policy(may_embed)}",
            "and scripts as text/javascript. If it is not yours to set up, the guide runs without.",
            "",
            *(snippet(name, address, may_embed) for name in SERVERS),
        )
    )
