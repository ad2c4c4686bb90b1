/** Shows the parts on invented days: `/src/dev/harness.html?day=dual&at=12`. Not part of the build. */
import { mount } from 'svelte';
import '../look/tokens.css';
import Harness from './Harness.svelte';

const target = document.getElementById('harness');
if (target) mount(Harness, { target });
