"""How a sheet looks: on a screen of any width, on dark ground, and on A4 or Letter."""

from __future__ import annotations

from typing import Final

from configurator.presentation.plain_text import plain

STYLE: Final = """
:root{color-scheme:light dark;--ink:#16191c;--ground:#fff;--soft:#4a5158;--line:#8b939b}
*{box-sizing:border-box}
body{font:16px/1.45 sans-serif;max-width:60em;margin:0 auto;padding:0 1em 2em;color:var(--ink);background:var(--ground);
overflow-wrap:anywhere}
h1{font-size:1.5em;line-height:1.2;margin:1em 0 .4em}
h2{font-size:1.2em;margin:1.8em 0 .5em;padding-top:.5em;border-top:2px solid var(--ink);break-after:avoid}
h3{font-size:1em;margin:1.1em 0 .3em;break-after:avoid}
p{margin:.5em 0}
.said{font-size:1.15em}
.before{border-left:4px solid var(--ink);padding-left:.7em}
.note,figcaption{color:var(--soft);font-size:.92em}
ul,ol{margin:.4em 0;padding-left:1.3em}
li{margin:.15em 0}
nav ul{columns:14em;list-style:none;padding:0}
a{color:inherit}
a:focus-visible,[tabindex]:focus-visible{outline:3px solid var(--ink);outline-offset:2px}
.skip{position:absolute;left:-100em}
.skip:focus{position:static}
table{border-collapse:collapse;width:100%;margin:.6em 0}
caption{text-align:left;font-weight:bold;padding:.2em 0}
th,td{text-align:left;vertical-align:top;padding:.25em .6em .25em 0;border-bottom:1px solid var(--line)}
thead th{border-bottom:2px solid var(--ink)}
th[scope=row]{font-weight:normal}
th[scope=col],.tight th,.places th[scope=row]{overflow-wrap:normal}
.others th[scope=row]{white-space:nowrap}
.places td:nth-child(4){min-width:6.2em}
.places :is(th,td):nth-child(n+6){white-space:nowrap}
.places :is(th,td){padding-right:1.2em}
.total{font-weight:bold;text-align:right}
.facts th[scope=row]{width:12em;font-weight:bold}
td.mark{white-space:nowrap}
.n{text-align:right;white-space:nowrap;padding-left:.6em}
td.read{min-width:5em}
tr{break-inside:avoid}
caption,thead{break-after:avoid}
tbody tr:first-child{break-before:avoid}
.scroll{overflow-x:auto}
figure{margin:.8em 0;break-inside:avoid}
svg{display:block;width:var(--wide);max-width:100%;height:auto}
.pictures{display:flex;flex-wrap:wrap;align-items:flex-start}
.bay{max-width:100%;margin:.3em 1em .6em 0}
.stack{max-width:100%}
.course svg{min-width:44em;max-width:none}
footer{margin-top:2em;border-top:1px solid var(--line)}
@media (min-width:61em){.columns{columns:2;column-gap:2em}
.beside{display:flex;gap:1.5em;align-items:flex-start}.beside>*{flex:1 1 0}
.beside>figure{flex:0 0 auto}}
@media (max-width:40em){.facts th[scope=row]{width:34%}.n{white-space:normal}
th,td{padding-right:.35em}.wide{min-width:38em}}
@media (prefers-color-scheme:dark){
:root{--ink:#e8eaec;--ground:#16191c;--soft:#b9c0c7;--line:#737c85}
}
@media print{
:root{--ink:#000;--ground:#fff;--soft:#000;--line:#777}
body{font-size:7.8pt;line-height:1.17;font-stretch:condensed;max-width:none;margin:0;padding:0}
h1{font-size:14pt;margin:0 0 .3em}h2{margin:.5em 0 .2em;padding-top:.15em;border-top-width:1.5px}h3{margin:.5em 0 .1em}
p{margin:.25em 0}table{margin:.3em 0}th,td{padding:.06em .5em .06em 0}
ul,ol{margin:.2em 0;padding-left:1.4em}li{margin:.05em 0;break-inside:avoid}
p{orphans:2;widows:2}
nav,.skip{display:none}
.scroll{overflow:visible}
.wide{min-width:0}
.course svg{min-width:0;width:146mm}
.bay svg{width:calc(var(--wide)*.7)}
.places{font-size:.95em}.places :is(th,td){padding-right:1em}
td.read{min-width:19mm}
.loop svg{width:calc(var(--wide)*.64)}
.columns{columns:2;column-gap:6mm}
.columns .facts th[scope=row]{width:9.5em}
.beside,#start table{break-inside:avoid}
#bay>p,#course>p{break-after:avoid}
.pictures{display:block;orphans:1;widows:1}.stack .bay{display:block}
.bay,.stack{display:inline-block;vertical-align:top}
.beside{display:flex;gap:5mm;align-items:flex-start}.beside>*{flex:1 1 0}.beside>figure{flex:0 0 auto}
figure{margin:.3em 0}.bay{margin:.1em 1mm .3em 0}
footer{margin-top:.6em}
}
"""


def paged(foot: str) -> str:
    """The margins of a printed page, with a title and its number at its foot; a screen shows nothing of it."""
    look = "font:7pt sans-serif;vertical-align:top;padding-top:1.5mm;white-space:nowrap"
    return (
        "@page{margin:8mm 13mm 9mm;\n"
        f"@bottom-left{{content:{quoted(foot)};{look}}}\n"
        f'@bottom-right{{content:"page " counter(page) " of " counter(pages);{look}}}}}\n'
    )


def quoted(words: str) -> str:
    """Words as a string of a style sheet inside a page: all but letters, figures and plain marks by their number.

    So nothing in them can end the string or the element round it.
    """
    safe = (letter if letter.isalnum() or letter in " .,:()-" else f"\\{ord(letter):x} " for letter in plain(words))
    return f'"{"".join(safe)}"'
